/** Signs of a page in words, for a report: levels by the names of the original notes, pitches by name and octave. */
import type { LevelOf } from "./report/types.js"
import type { Note, Sign } from "../page/index.js"
import { inWords } from "../together/emend/describe.js"

/** "semibrevis c4, dot"; "nothing" where there is none. `levelOf` knows what a drawn ligature means. */
export function signsInWords(signs: readonly Sign[], levelOf?: LevelOf): string {
  const words = signs.flatMap(sign => signInWords(sign, levelOf) ?? [])
  return words.length === 0 ? "nothing" : words.join(", ")
}

/** The words under notes have nothing to do with how they are written. */
export const withoutWords = <S extends Sign>(sign: S): S => {
  if (sign.kind === "note") return { ...sign, syllables: [] }
  if (sign.kind !== "ligature") return sign
  return { ...sign, members: sign.members.map(member => withoutWords(member)) }
}
export const hasWords = (sign: Sign): boolean =>
  sign.kind === "note" ? sign.syllables.length > 0 : sign.kind === "ligature" && sign.members.some(hasWords)

/** Undefined for what is no sign of its own: a line break, a remark. */
export function signInWords(sign: Sign, levelOf?: LevelOf): string | undefined {
  switch (sign.kind) {
    case "note":
      return noteInWords(sign, levelOf)
    case "ligature": {
      const notes = sign.members.filter(member => member.kind === "note")
      return `ligature of ${notes.map(note => noteInWords(note, levelOf)).join(", ")}`
    }
    case "dot":
      return "a dot"
    case "stroke":
      return STROKES[sign.form]
    case "clef":
      return `${sign.shape} clef on line ${sign.line}`
    case "signature":
      return sign.accidentals.length === 0
        ? "an empty signature"
        : `signature of ${sign.accidentals.map(one => `${accidentalName(one.accidental)} on ${one.step}`).join(", ")}`
    case "accidental":
      return `a ${accidentalName(sign.accidental)}${sign.pitch ? ` on ${sign.pitch.step}${sign.pitch.octave}` : ""}`
    case "custos":
      return "custos"
    case "mark":
      return sign.text ? `“${sign.text}”` : sign.of.replaceAll("-", " ")
    case "other":
      return sign.name
    case "break":
    case "comment":
      return undefined
    default:
      return inWords(sign)
  }
}

const STROKES = {
  "divisio-modi": "a stroke of division",
  "signum-perfectionis": "a stroke of perfection",
  "signum-rotundum": "a small circle",
  "divisio-syllabarum": "a stroke that parts syllables",
  suspirium: "a suspirium",
  "finis-punctorum": "a stroke through the staff",
  bar: "a bar",
} as const

const ACCIDENTALS: Readonly<Record<string, string>> = {
  s: "sharp",
  f: "flat",
  n: "natural",
  x: "cross",
  ff: "double flat",
  ss: "double sharp",
}
export const accidentalName = (accidental: string): string => ACCIDENTALS[accidental] ?? `accidental (${accidental})`

const COLOURS = {
  none: "",
  red: "red",
  "red-void": "red and void",
  void: "void",
  black: "blackened",
  other: "coloured",
  "half-left": "half coloured",
  "half-right": "half coloured",
  "half-top": "half coloured",
  "half-bottom": "half coloured",
} as const

function noteInWords(note: Note, levelOf?: LevelOf): string {
  const level = note.level ?? levelOf?.(note.id) ?? "note"
  const name = note.duplex ? "duplex longa" : level
  const pitch = note.pitch ? `${note.pitch.step}${note.pitch.octave}` : ""
  const more = [
    note.plica ? "with a plica" : "",
    note.accidental
      ? `with a ${accidentalName(note.accidental)}${note.accidentalByEditor ? " (the editor’s)" : ""}`
      : "",
    note.stems.some(stem => stem.direction === "down") ? "with a stem down" : "",
    note.syllables.length > 0 ? `to “${note.syllables.map(one => one.text).join(" / ")}”` : "",
  ]
  return [COLOURS[note.coloration], name, pitch, ...more].filter(Boolean).join(" ")
}
