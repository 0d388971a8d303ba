/** From a sign to its words. The coloration is left to the layout, which gathers coloured stretches. */
import { ABBREVIATIONS, type Level } from "../level.js"
import type { Coloration, Ligature, Note, Rest, Sign } from "../signs.js"
import { writeHead } from "./heads.js"
import type { IdCounter } from "./ids.js"
import { fitsLyricLine } from "./lyrics.js"
import { PROPERTIES } from "./properties.js"
import { writeSyllable } from "./properties-of-notes.js"
import { quote } from "./tokens.js"
import { areDrawable, isDrawable, mensurationWord, NO_LEVEL, noteWord, restWord } from "./words.js"
import { INITIAL_KINDS } from "./run.js"

/** A sign in words, before it is put into a line. */
export interface Piece {
  /** The level, if it changes, and the word itself. */
  readonly head: string
  /** Its suffixes but for the coloration, which goes between head and tail. */
  readonly tail: string
  /** Undefined for signs that have none. */
  readonly coloration?: Coloration
  /** The note that takes a syllable from the line of lyrics. */
  readonly slot?: Note
}

/** What the signs written so far have left in force. */
export interface Writing {
  /** As in the parser: null is "none", undefined "not said yet". */
  level: Level | null | undefined
  octave: number | undefined
  /** Only signs that may be initial ones have come so far. */
  leading: boolean
  readonly ids: IdCounter
}

export function writeSign(sign: Sign, writing: Writing): Piece {
  if (sign.kind === "ligature") {
    writing.leading = false
    return writeLigature(sign, writing)
  }
  const inLead = writing.leading && INITIAL_KINDS.has(sign.kind)
  const id = idOf(sign, writing)
  if (sign.kind !== "comment") writing.leading = inLead
  if (sign.kind === "note") return { ...writeNote(sign, writing, true, id), slot: sign }
  if (sign.kind === "rest") return writeRest(sign, writing, id)
  return { head: headOf(sign), tail: initialOf(sign, inLead) + propertiesOf(sign) + id }
}

function headOf(sign: Exclude<Sign, Note | Rest | Ligature>): string {
  if (sign.kind !== "mensuration" || !sign.sign) return writeHead(sign)
  return mensurationWord({
    sign: sign.sign,
    ...(isDrawable(sign.dots) && { dots: sign.dots }),
    ...(isDrawable(sign.strokes) && { strokes: sign.strokes }),
    ...(areDrawable(sign.figures) && { figures: sign.figures }),
  })
}

function initialOf(sign: Sign, inLead: boolean): string {
  if (sign.kind !== "clef" && sign.kind !== "signature" && sign.kind !== "mensuration") return ""
  if (!!sign.initial === inLead) return ""
  return sign.initial ? ":initial" : ":within"
}

/** `takesLyrics`: its syllables may stand in the line of lyrics. */
function writeNote(note: Note, writing: Writing, takesLyrics: boolean, id: string): Piece {
  const level = note.level ?? null
  const changed = level === writing.level ? "" : `${level ? ABBREVIATIONS[level] : NO_LEVEL} `
  writing.level = level
  const { step, octave } = note.pitch ?? {}
  const word = noteWord({
    step,
    accidental: note.accidental,
    byEditor: note.accidentalByEditor,
    inForce: note.accidentalInForce,
    octave: octave === writing.octave ? undefined : octave,
    oblique: note.oblique,
  })
  writing.octave = octave ?? writing.octave
  const loose = takesLyrics && fitsLyricLine(note.syllables) ? "" : note.syllables.map(writeSyllable).join("")
  return { head: changed + word, tail: propertiesOf(note) + loose + id, coloration: note.coloration }
}

function writeRest(rest: Rest, writing: Writing, id: string): Piece {
  const head = restWord(rest.level, rest.spaces, writing.level ?? undefined)
  return { head, tail: propertiesOf(rest) + id, coloration: rest.coloration }
}

/** One piece; coloured as a whole when all that can be coloured in it is coloured alike. */
function writeLigature(ligature: Ligature, writing: Writing): Piece {
  const id = idOf(ligature, writing)
  const outside = writing.level
  writing.level = null
  const firstNote = ligature.members.find(member => member.kind === "note")
  const pieces = ligature.members.map(member => writeMember(member, writing, member === firstNote))
  writing.level = outside
  const colours = new Set(pieces.flatMap(({ coloration }) => (coloration ? [coloration] : [])))
  const common = colours.size === 1 ? [...colours][0] : undefined
  const inside = pieces.map(piece => writePiece(piece, common ?? "none")).join(" ")
  const coloration = common ?? (colours.size > 1 ? "none" : undefined)
  return {
    head: `[${inside}]`,
    tail: propertiesOf(ligature) + id,
    ...(coloration && { coloration }),
    ...(firstNote && { slot: firstNote }),
  }
}

function writeMember(member: Ligature["members"][number], writing: Writing, takesLyrics: boolean): Piece {
  const id = idOf(member, writing)
  if (member.kind === "note") return writeNote(member, writing, takesLyrics, id)
  if (member.kind === "rest") return writeRest(member, writing, id)
  return { head: writeHead(member), tail: propertiesOf(member) + id }
}

/** The piece as it stands where `inForce` is the coloration of the stretch. */
export function writePiece({ head, tail, coloration }: Piece, inForce: Coloration): string {
  return (
    head + (coloration === undefined || coloration === inForce || head.startsWith("[") ? "" : `:${coloration}`) + tail
  )
}

function propertiesOf<S extends Sign>(sign: S): string {
  const all = PROPERTIES[sign.kind] as readonly unknown[] as readonly { write: (sign: S) => string }[]
  return all.map(property => property.write(sign)).join("")
}

/** `:id=…` where it is not the one that the sign has anyway. */
function idOf(sign: Sign, writing: Writing): string {
  const expected = writing.ids.expected()
  writing.ids.use(sign.id)
  return sign.id === expected ? "" : `:id=${quote(sign.id)}`
}
