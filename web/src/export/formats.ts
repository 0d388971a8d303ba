/** Files that can be made of a piece, by the same code as the command line's. */
import {
  alignVoices,
  meiHead,
  NO_HEAD,
  proposalsUpTo,
  proposeFicta,
  readApart,
  readMei,
  readTogether,
  valuesBy,
  withFicta,
  type EditionConventions,
  type MeiHead,
  type Page,
  type Problem,
  type Reading,
  type Score,
  type ValueOptions,
} from "@resolutio/core"
import { conventionsOf } from "./make/conventions.js"
import { FIGURES } from "./make/figures.js"
import { FINDINGS } from "./make/findings.js"
import { PAGE } from "./make/page.js"
import { SCORE } from "./make/score.js"
import { SHOW } from "./make/show.js"
import { SOUND } from "./make/sound.js"
import { TIME } from "./make/time.js"
import type { FormatName, Wishes } from "./offered.js"

export interface Piece {
  readonly page: Page
  /** Text of the MEI file that it came from. */
  readonly mei?: string
}
/** A piece with all that is known of it. */
export interface Known extends Piece {
  readonly readings: readonly Reading[]
  readonly score: Score
  /** With the accidentals that the conventions want. */
  readonly sung: Score
  readonly conventions: EditionConventions
  readonly values: ValueOptions
  readonly head: MeiHead
  readonly wishes: Wishes
  /** Hears how far the work has come, 0 to 1. */
  readonly told: (share: number) => void
}
export type Content = string | Uint8Array
/** One file, or several with the ends of their names. */
export type Contents = Content | { readonly files: readonly (readonly [end: string, content: Content])[] }
export interface Made {
  readonly content: Content
  /** ".svg"; ".zip" where it is several files. */
  readonly ending: string
  readonly type: string
  /** What the file cannot carry, and what could not be done, in sentences. */
  readonly losses: readonly string[]
}
export interface Format {
  readonly ending: string
  readonly type: string
  readonly make: (piece: Known) => Contents | WithProblems | Promise<Contents | WithProblems>
  readonly losses?: (piece: Known) => readonly string[]
}
export interface WithProblems {
  readonly bytes: Uint8Array
  readonly problems: readonly Problem[]
}

const FORMATS: Readonly<Record<FormatName, Format>> = {
  ...SHOW,
  ...PAGE,
  ...TIME,
  ...SCORE,
  ...FINDINGS,
  ...SOUND,
  ...FIGURES,
}

/** Makes the file. Throws where the piece has none, with a sentence. */
export async function makeFile(
  name: FormatName,
  piece: Piece,
  wishes: Wishes,
  told: (share: number) => void,
): Promise<Made> {
  const known = knownOf(piece, wishes, told)
  const { ending, type, make, losses } = FORMATS[name]
  const made = await make(known)
  const carried = losses?.(known) ?? []
  if (typeof made === "string" || made instanceof Uint8Array) return { content: made, ending, type, losses: carried }
  if ("bytes" in made)
    return {
      content: made.bytes,
      ending,
      type,
      losses: [...carried, ...made.problems.map(({ what, mend }) => `${what} ${mend ?? ""}`)],
    }
  const [only] = made.files
  if (made.files.length === 1 && only) return { content: only[1], ending, type, losses: carried }
  const { zipped } = await import("./make/zip.js")
  return { content: zipped(piece.page.title, made.files), ending: ".zip", type: "application/zip", losses: carried }
}

function knownOf(piece: Piece, wishes: Wishes, told: (share: number) => void): Known {
  const { page } = piece
  const { ignoreGiven, alone } = wishes
  const readings = alone ? readApart(page, { ignoreGiven }) : readTogether(page, { ignoreGiven }).readings
  const score = alignVoices(page, readings)
  const conventions = conventionsOf(wishes)
  const { ficta } = conventions
  const repeated = wishes.repeats === "signs" ? score : alignVoices(page, readings, { repeats: wishes.repeats })
  const sung = ficta === "none" ? repeated : withFicta(repeated, proposalsUpTo(proposeFicta(page, repeated), ficta))
  const read = piece.mei === undefined ? undefined : readMei(piece.mei)
  const head = read?.ok ? meiHead(read.value.source) : NO_HEAD
  return { ...piece, readings, score, sung, conventions, values: valuesBy(conventions), head, wishes, told }
}
