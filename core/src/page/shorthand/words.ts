/** What a single word of the shorthand is: levels, notes, rests and mensuration signs, both ways. */
import { fromText, toText, type Rational } from "../../base/index.js"
import { ABBREVIATIONS, LEVELS, type Level } from "../level.js"
import type { Accidental, Step } from "../signs.js"
import { LARGEST, readWhole } from "./tokens.js"
import { Keyword, LevelWord, NoteWord, RestWord } from "./terms.generated.js"

/** Words that begin a line which is not music. */
export const KEYWORDS = [
  "voice",
  "alternative",
  "years",
  "person",
  "people",
  "shape",
  "surface",
  "zone",
  "decision",
] as const
export type KeywordName = (typeof KEYWORDS)[number]

const levelByAbbreviation = new Map<string, Level>(LEVELS.map(level => [ABBREVIATIONS[level], level]))
/** Stands where no level is said: in a ligature whose drawn shape says it. */
export const NO_LEVEL = "?"

/** undefined: no word for a level; null: the word for "no level is said". */
export function levelOf(word: string): Level | null | undefined {
  return word === NO_LEVEL ? null : levelByAbbreviation.get(word)
}

const LEVEL = "(Mx|L|B|Sm|Sf|S|M|F|\\?)"
// MEI's written accidentals, longest first, so that "ff" is not taken for "f" and a note f.
const ACCIDENTAL = "ss|xs|sx|ts|ff|tf|nf|ns|su|sd|fu|fd|nu|nd|s|f|x|n"
const NOTE = new RegExp(`^([a-go])(${ACCIDENTAL})?(?:\\+(${ACCIDENTAL}))?(?:~(${ACCIDENTAL}))?(\\d)?(_)?$`)
// A level may stand before a note without pitch ("Lo Bo"), not before a pitch: "Sf" is a level already.
const LEVEL_AND_NOTE = new RegExp(`^${LEVEL}(o.*)$`)
const REST = new RegExp(`^r${LEVEL}?(\\d{1,9}(?:/\\d{1,9})?)?$`)
const knownAccidental = new RegExp(`^(?:${ACCIDENTAL})$`)

/** For the parser's tables, which call it with the state of the parser too: what kind of word this is, or -1. */
export function classify(word: string, _state?: unknown): number {
  if (levelOf(word) !== undefined) return LevelWord
  if (NOTE.test(word) || LEVEL_AND_NOTE.test(word)) return readNoteWord(word) ? NoteWord : -1
  if (REST.test(word)) return RestWord
  return (KEYWORDS as readonly string[]).includes(word) ? Keyword : -1
}

export interface NoteWordParts {
  /** undefined: the level in force; null: none. */
  readonly level?: Level | null
  /** undefined: a note without a pitch ("o"). */
  readonly step?: Step
  readonly octave?: number
  readonly accidental?: Accidental
  readonly byEditor?: boolean
  readonly inForce?: Accidental
  readonly oblique?: boolean
}

/** "bf3", "c+s4" (editor's), "b~f" (in force, not written), "g3_" (an oblique body begins), "o", "Bo". */
export function readNoteWord(word: string): NoteWordParts | undefined {
  const levelled = LEVEL_AND_NOTE.exec(word)
  const found = NOTE.exec(levelled?.[2] ?? word)
  if (!found) return undefined
  const [, step, written, edited, inForce, octave, oblique] = found
  if ((written && edited) || (step === "o" && octave)) return undefined
  return {
    ...(levelled && { level: levelOf(levelled[1] ?? "") }),
    ...(step !== "o" && { step: step as Step }),
    ...(octave && { octave: Number(octave) }),
    ...((written ?? edited) && { accidental: written ?? edited }),
    ...(edited && { byEditor: true }),
    ...(inForce && { inForce }),
    ...(oblique && { oblique: true }),
  }
}

/** The word for a note; an accidental that has no short form is left out (see `isShortAccidental`). */
export function noteWord(parts: NoteWordParts): string {
  const accidental = isShortAccidental(parts.accidental) ? (parts.byEditor ? "+" : "") + parts.accidental : ""
  const inForce = isShortAccidental(parts.inForce) ? `~${parts.inForce}` : ""
  return `${parts.step ?? "o"}${accidental}${inForce}${parts.octave ?? ""}${parts.oblique ? "_" : ""}`
}

/** Whether an accidental can be written within the word of a note or of a signature. */
export function isShortAccidental(accidental: Accidental | undefined): accidental is string {
  return accidental !== undefined && knownAccidental.test(accidental)
}

/** Length of the longest rest, in spaces. */
const MOST_SPACES = 99

/** "r" (of the level in force), "rB", "r2/3" (by length in spaces), "rL2" (both). */
export function readRestWord(word: string): { readonly level?: Level | null; readonly spaces?: Rational } | undefined {
  const found = REST.exec(word)
  if (!found) return undefined
  const [, level, spaces] = found
  const length = spaces === undefined ? undefined : fromText(spaces)
  if (spaces !== undefined && (!length || length.num <= 0 || length.num > MOST_SPACES * length.den)) return undefined
  // A length alone says nothing of a level.
  const read = level !== undefined ? levelOf(level) : length ? null : undefined
  return { ...(read !== undefined && { level: read }), ...(length && { spaces: length }) }
}

export function restWord(level: Level | undefined, spaces: Rational | undefined, inForce: Level | undefined): string {
  if (spaces) return `r${level ? ABBREVIATIONS[level] : ""}${toText(spaces)}`
  if (level === undefined) return `r${NO_LEVEL}`
  return level === inForce ? "r" : `r${ABBREVIATIONS[level]}`
}

export interface MensurationParts {
  readonly sign: "O" | "C"
  readonly dots?: number
  readonly strokes?: number
  readonly figures?: readonly number[]
}

/** "O", "C.", "C|", "O|3/2": dots inside, strokes through, figures after. */
export function readMensurationWord(word: string): MensurationParts | undefined {
  const found = /^([OC])(\.*)(\|*)(\d.*)?$/.exec(word)
  if (!found) return undefined
  const [, sign, dots = "", strokes = "", written] = found
  const figures = written?.split("/").map(figure => readWhole(figure, 1, LARGEST))
  if (dots.length > MOST_DOTS || strokes.length > MOST_STROKES || figures?.includes(undefined)) return undefined
  return {
    sign: sign as "O" | "C",
    ...(dots && { dots: dots.length }),
    ...(strokes && { strokes: strokes.length }),
    ...(figures && { figures: figures as number[] }),
  }
}

/** The parts must pass `fitsMensurationWord`. */
export function mensurationWord({ sign, dots, strokes, figures }: MensurationParts): string {
  return sign + ".".repeat(dots ?? 0) + "|".repeat(strokes ?? 0) + (figures?.join("/") ?? "")
}

/** No source has more. */
export const MOST_DOTS = 3
export const MOST_STROKES = 6

/** Dots and strokes that are drawn in the word: one to nine; others are said by name. */
export function isDrawable(count: number | undefined): count is number {
  return count !== undefined && Number.isInteger(count) && count > 0 && count < 10
}
export function areDrawable(figures: readonly number[] | undefined): figures is readonly number[] {
  return !!figures && figures.length > 0 && figures.every(figure => Number.isSafeInteger(figure) && figure > 0)
}
