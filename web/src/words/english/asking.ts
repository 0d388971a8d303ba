/** What is said of a sign: why it lasts so long, what else it could be, what is decided. */
import { counted } from "./counted.js"

export const reason = {
  start: "Ask any sign why it lasts as long as it does.",
  startHow: "Choose one with a click, or go along the music with the arrow keys.",
  noVoice: "There is nothing on this page yet.",
  because: "Because of",
  also: "Also true",
  decidedBy: {
    voice: "Its own voice decides it.",
    others: "The voices together decide it.",
    decision: "You decided it.",
    given: "The file states it.",
  },
  alone: "By its own voice; the others are being read.",
  rivals: (counts: string) => `What else was weighed: ${counts}`,
  chance: (chance: number) => (chance < 0.01 ? "under 1 in 100" : `${Math.round(chance * 100)} in 100`),
}

export const suppose = {
  title: "What if …",
  how: "Nothing is changed: the page is shown as it would be.",
  if: (words: string) => `If ${words}`,
  gone: (what: string) => `this ${what} were gone`,
  level: (level: string) => `it were a ${level}`,
  dot: "a dot stood after it",
  noDot: "there were no dot after it",
  red: "it were red",
  void: "it were void",
  filled: "it were black",
  plain: "it were not coloured",
  stem: "it had a stem down",
  noStem: "it had no stem",
  sign: (shown: string) => `the sign were ${shown}`,
  practice: (voice: string, title: string) => `${voice} were read as ${title}`,
  practiceOfAll: (title: string) => `all voices were read as ${title}`,
  makeSo: "Make it so",
  back: "Back to what stands",
  nothing: "Nothing would be read otherwise.",
  otherwise: (n: number) => `${counted(n, "sign", "signs")} would be read otherwise:`,
  otherwiseFrom: (n: number, first: string) =>
    `${counted(n, "sign", "signs")} would be read otherwise, the first of them ${first}.`,
  asBefore: (fit: string) => fit.replace(/\.$/, ", as before."),
  allVoices: "all voices",
  readBy: (who: string, several: boolean, title: string, options: string) =>
    `${who} ${several ? "were" : "was"} read${title === "" ? "" : ` as ${title}`}${options === "" ? "" : `${title === "" ? " with " : "; "}${options}`}`,
  withOption: (meaning: string, value: string) => `${meaning}: ${value}`,
  became: (place: string, before: string, after: string) => `${place}: ${after}, not ${before}`,
  units: { minima: ["minim", "minims"], tempus: ["tempus", "tempora"], brevis: ["breve", "breves"] },
  kinds: { note: "note", rest: "rest", dot: "dot", stroke: "stroke", mensuration: "sign", proportion: "proportion" },
}

export const decide = {
  title: "Decide",
  lasts: "It lasts",
  now: (count: string) => `It lasts ${count}, as it is read`,
  rival: (count: string) => `It lasts ${count}`,
  other: "another length",
  otherHow: "A number such as 4 or 9/2, in the unit of the voice.",
  not: "Not",
  isNot: (count: string) => `It does not last ${count}, whatever else`,
  way: (places: string) => `as part of another reading of the voice: ${places}`,
  dot: "The dot after it is a dot of",
  isDot: "It is a dot of",
  dots: { division: "division", addition: "addition", perfection: "perfection", alteration: "alteration" },
  why: "Because",
  whyHow: "For whoever reads it later; it may stay empty.",
  who: "Decided by",
  decide: "Decide",
  noDuration: (text: string) =>
    text.trim() === ""
      ? "Write how long it lasts: a number such as 4 or 9/2."
      : `“${text}” is no duration: write a number such as 4 or 9/2.`,
  made: "You decided",
  takeBack: "Take it back",
  from: "From the file",
}
