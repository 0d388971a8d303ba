/** The window's own texts, loaded with it. Whole sentences, the thing first and the term second; no blame, no exclamation. */
import { keyboard, photographs, writing } from "./writing.js"
import { acts, groups, walk } from "./acts.js"
import { listening, presenting, steps } from "./hearing.js"
import { decide, reason, suppose } from "./asking.js"
import { counted } from "./counted.js"

export const english = {
  program: "Resolutio",
  untitled: "Without a title",

  bands: {
    page: { name: "Page", folded: "The signs as they stand, voice by voice." },
    time: { name: "Time", folded: "All voices over one axis, each sign as long as it lasts." },
    edition: {
      name: "Edition",
      folded: "The modern score.",
      loading: "Loading the engraver, which is large; it is kept for the next time …",
      none: (why: string) => `There is no score to be drawn: ${why}.`,
      accidentals: {
        none: "The edition shows no accidentals that are only proposed.",
        required: "The edition shows accidentals that are required.",
        likely: "The edition shows accidentals that are required or likely.",
        optional: "The edition shows all accidentals that are proposed.",
      },
    },
    fold: (name: string) => `Fold ${name}`,
    unfold: (name: string) => `Open ${name}`,
  },
  chapters: {
    reason: "Reason",
    matters: "Doubts",
    measure: "Measure",
    repeats: "Repeats",
    accidentals: "Accidentals",
    practice: "Practice",
    label: "What the lowest band is about",
  },
  acts,
  groups,
  steps,
  listening,
  writing,
  walk,
  keyboard,
  presenting,
  photographs,
  keep: {
    now: "being kept",
    kept: "kept on this machine",
    notKept: "not kept",
    onlooker: "looked on: another window writes to it",
    gone: {
      what: "This piece was taken away in another window.",
      mend: "What you see here is whole: the next act keeps it again.",
    },
    failed: (why: string) => ({
      what: `The last change could not be kept on this machine (${why}).`,
      mend: "Save the piece as a file; the next act tries to keep all of it.",
    }),
  },
  status: {
    nothing: "No piece is open.",
    reading: "Reading the voices together …",
    read: "Read.",
    looking: "Looking closer …",
    lasts: (duration: string, unit: "minima" | "tempus") =>
      `It lasts ${duration} ${unit === "minima" ? "minims" : "tempora"}.`,
    empty: (voices: readonly string[]) => (voices.length === 0 ? "" : `Still to be written: ${voices.join(", ")}.`),
    doubts: (n: number) => (n === 0 ? "Nothing is in doubt." : `${counted(n, "place is", "places are")} in doubt.`),
    problems: (n: number) => (n === 0 ? "" : `${counted(n, "thing", "things")} could not be read as written.`),
    failed: (why: string) => `The voices could not be read together: ${why}. Each is told by itself.`,
    supposed: "Only supposed: nothing is changed.",
  },
  suppose,
  decide,
  sheets: {
    open: {
      title: "Open",
      goOn: "Go on with",
      begin: "Begin",
      look: "Look at",
      file: "A file from this machine …",
      fileHow: "MEI, or the shorthand. A file can also be dropped anywhere in the window.",
      nothingKept: "Nothing has been kept on this machine yet.",
      remove: (title: string) => `Take away “${title}”`,
      removeWord: "Take away",
      sure: "Take it away for good",
      anew: "as it came",
      drop: "Let go to open the file.",
      reading: (file: string) => `Reading ${file} …`,
      tooLarge: (file: string) => ({
        what: `${file} is larger than 40 MB.`,
        mend: "Cut it down to the piece you need.",
      }),
    },
    begin: {
      pieceTitle: "Title",
      voices: "Voices",
      voicesHow: "Their names, from the highest down, with commas between.",
      usualVoices: "cantus, tenor",
      notation: "Notes are",
      black: "full (black notation)",
      white: "void (white notation)",
      practice: "Read by",
      inferred: "what the notes themselves show",
      begin: "Begin the piece",
    },
    link: {
      bad: {
        what: "The address carries a piece that is not whole.",
        mend: "Copy all of the link, to its very end, or ask for the file.",
      },
    },
    find: { title: "Find an act", field: "What do you want to do?", none: "There is no act of that name." },
    keys: {
      title: "Keys",
      letters: "Letters act by themselves",
      lettersHow: "Without this each letter needs Alt, so that a spoken word does nothing by mistake.",
      how: "Keys act while no text is being typed.",
    },
    close: "Back to the music",
  },
  reason,
}
