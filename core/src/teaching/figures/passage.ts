/** A passage of one or more voices, read by the engine: a piece that was given, or a line of our own in shorthand. */
import { compare, plus, toNumber, type Rational, type SignId } from "../../base/index.js"
import { levelsOf, NEAR, timeVoices, type TimeVoice } from "../../drawing/index.js"
import type { Page } from "../../page/index.js"
import { parseShorthand } from "../../page/shorthand/index.js"
import type { Reading, ReadOptions } from "../../reading/index.js"
import { alignVoices, notate, soundingOf, type NotatedScore, type Score } from "../../score/index.js"
import { readTogether } from "../../together/index.js"

export interface Passage {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  readonly notated: NotatedScore
  /** Those that are shown, in the score's order. */
  readonly voices: readonly TimeVoice[]
  /** The part that is shown, in the score's unit. */
  readonly from: number
  readonly to: number
  /** Where the picture of the whole piece would end. */
  readonly whole: number
  /** The sign that is asked about: its causes are shown. */
  readonly asked?: SignId
}

export interface PassagePart {
  /** Without them, from the beginning to the end. */
  readonly from?: Rational
  readonly to?: Rational
  /** Labels or numbers of voices; all without it. */
  readonly voices?: readonly string[]
}

export { NEAR } from "../../drawing/index.js"

export function passageOf(page: Page, options: ReadOptions = {}, part: PassagePart = {}): Passage {
  return passageRead(page, readTogether(page, options).readings, part)
}

export function passageRead(written: Page, read: readonly Reading[], part: PassagePart = {}): Passage {
  const { voices: all, ...piece } = pieceOf(written, read)
  const { score } = piece
  const voices = all.filter(
    ({ voice }) => !part.voices || part.voices.includes(voice.label) || part.voices.includes(voice.n),
  )
  const from = part.from ? toNumber(part.from) : 0
  const whole = endOf(voices, score)
  const to = Math.max(Math.min(part.to ? toNumber(part.to) : Infinity, whole), from + NEAR)
  return { ...piece, voices, from, to, whole }
}

type Piece = Pick<Passage, "page" | "readings" | "score" | "notated" | "voices">
const pieces = new WeakMap<Page, { readonly read: readonly Reading[]; readonly piece: Piece }>()

/** Of one piece many passages are tried until one fits. */
function pieceOf(written: Page, read: readonly Reading[]): Piece {
  const known = pieces.get(written)
  if (known?.read === read) return known.piece
  const score = alignVoices(written, read)
  // a canon is shown as the voices that sound
  const { page, readings } = soundingOf(written, read)
  const piece = { page, readings, score, notated: notate(score), voices: timeVoices({ page, readings, score }) }
  pieces.set(written, { read, piece })
  return piece
}

/** A final is shown as long as one perfection. */
function endOf(voices: readonly TimeVoice[], score: Score): number {
  const whole = toNumber(score.duration)
  const ends = voices.map(({ finalAt, signs, spans }) => {
    const last = signs.at(-1)
    if (!Number.isFinite(finalAt)) return last ? last.at + last.lasts : 0
    const period = Math.max(1, ...spans.slice(-1).map(span => levelsOf(span).base))
    return Math.min(whole, finalAt + period)
  })
  return Math.max(NEAR, ...ends)
}

/** Whether full heads are the norm in one of its voices. */
export const isBlack = ({ voices }: Passage): boolean => voices.some(one => !one.style.white)

/** The same with the last notes counted like any others, for a line that is a stretch out of a voice. */
export function asStretch(passage: Passage): Passage {
  const voices = passage.voices.map(voice => ({
    ...voice,
    finalAt: Infinity,
    signs: voice.signs.map(sign => (sign.held ? { ...sign, held: false } : sign)),
  }))
  const end = voices.reduce(
    (most, { signs }) => Math.max(most, ...signs.slice(-1).map(one => one.at + one.lasts)),
    NEAR,
  )
  return { ...passage, voices, to: end, whole: Infinity }
}

/** A line of our own, as a stretch out of a voice; that it cannot be read would be a fault of the program. */
export function ownLine(shorthand: string, options: ReadOptions = {}): Passage {
  return asStretch(passageOf(ownPage(shorthand), options))
}

export function ownPage(shorthand: string): Page {
  const read = parseShorthand(shorthand, "figure")
  if (!read.ok || read.problems.length > 0) throw new Error(`figure: “${shorthand}”: ${read.problems[0]?.what}`)
  return read.value
}

/** When a note or rest begins and ends, by the number it has in its voice. */
export function momentsOf(
  passage: Passage,
  voice: string,
  number: number,
): { start: Rational; end: Rational } | undefined {
  const found = passage.voices.find(
    one => one.voice.label.toLowerCase() === voice.toLowerCase() || one.voice.n === voice,
  )
  const sign = found?.signs.find(one => one.reading.number === number)
  return sign && { start: sign.onset, end: plus(sign.onset, sign.duration) }
}

export const isBefore = (one: Rational, other: Rational): boolean => compare(one, other) < 0
