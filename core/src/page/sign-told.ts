/** What is said of a sign that is no matter of duration: a clef, a signature, a guide, a mark. */
import type { Accidental, Mark, Sign } from "./signs.js"

/** The thing first, as a headline; then what it does, as a sentence. */
export interface SignTold {
  readonly headline: string
  readonly sentence: string
}

/** Undefined for what the reading tells of itself: notes, rests, dots, strokes, signs of mensuration and proportion. */
export function signTold(sign: Sign): SignTold | undefined {
  switch (sign.kind) {
    case "clef":
      return {
        headline: `A clef of ${sign.shape.charAt(0).toLowerCase()}`,
        sentence: `The ${ordinal(sign.line)} line from below is ${CLEF_NOTES[sign.shape]}${shifted(sign.octaveShift)} from here on.`,
      }
    case "signature":
      return signatureTold(sign.accidentals)
    case "accidental":
      return {
        headline: `A ${accidentalWords(sign.accidental)}${sign.byEditor ? ", the editor’s" : ""}`,
        sentence: sign.pitch
          ? `It stands at ${sign.pitch.step} ${sign.pitch.octave}, apart from its note.`
          : "It stands apart from its note.",
      }
    case "custos":
      return {
        headline: "A guide",
        sentence: `It shows where the next line begins${sign.pitch ? `, at ${sign.pitch.step} ${sign.pitch.octave}` : ""}, and is not sung.`,
      }
    case "mark":
      return markTold(sign)
    case "other":
      return {
        headline: `Not read: ${sign.name}`,
        sentence: "It keeps its place in the file, and nothing is read from it.",
      }
    default:
      return undefined
  }
}

const CLEF_NOTES = { C: "middle c", F: "the f below middle c", G: "the g above middle c", GG: "the g below middle c" }

const shifted = (octaves = 0): string =>
  octaves === 0
    ? ""
    : `, sung ${Math.abs(octaves) === 1 ? "an octave" : `${Math.abs(octaves)} octaves`} ${octaves < 0 ? "lower" : "higher"},`

const ORDINALS = ["first", "second", "third", "fourth", "fifth", "sixth"]
const ordinal = (n: number): string => ORDINALS[n - 1] ?? `${n}th`

function signatureTold(accidentals: readonly { readonly step: string; readonly accidental: Accidental }[]): SignTold {
  if (accidentals.length === 0)
    return { headline: "An empty signature", sentence: "No step is flat or sharp from here on unless it is written." }
  const steps = accidentals.map(one => `${one.step} ${accidentalWords(one.accidental)}`)
  return {
    headline: `A signature of ${listed(steps)}`,
    sentence: `From here on each is sung so, unless something else is written: ${listed(steps)}.`,
  }
}

const listed = (words: readonly string[]): string =>
  words.length > 1 ? `${words.slice(0, -1).join(", ")} and ${words.at(-1)}` : words.join("")

const ACCIDENTALS: Readonly<Record<string, string>> = {
  s: "sharp",
  f: "flat",
  n: "natural",
  x: "double sharp",
  ff: "double flat",
}
const accidentalWords = (accidental: Accidental): string => ACCIDENTALS[accidental] ?? `sign (${accidental})`

const MARKS: Readonly<Record<Mark["of"], SignTold>> = {
  "signum-congruentiae": {
    headline: "A signum congruentiae",
    sentence: "The voices come together here, or another begins.",
  },
  "repeat-start": { headline: "The beginning of a repeat", sentence: "What follows is sung again." },
  "repeat-end": { headline: "The end of a repeat", sentence: "What stands before it is sung again." },
  "ending-open": { headline: "The open ending", sentence: "It ends the music the first time." },
  "ending-closed": { headline: "The closed ending", sentence: "It ends the music the second time." },
  "refrain-start": { headline: "The beginning of the refrain", sentence: "What follows comes back after the stanzas." },
  "refrain-end": {
    headline: "The end of the refrain",
    sentence: "What stands before it comes back after the stanzas.",
  },
  canon: { headline: "The rubric of a canon", sentence: "It says how other voices are sung from this one." },
  text: { headline: "A rubric", sentence: "It is told in words." },
  section: { headline: "The beginning of a section", sentence: "It parts the music and has no length." },
  numeral: { headline: "A numeral", sentence: "It counts, and has no length." },
}

function markTold({ of, text }: Mark): SignTold {
  const { headline, sentence } = MARKS[of]
  return { headline, sentence: text ? `“${text}” ${sentence}` : sentence }
}
