/** What is written, at the moments when it sounds: each voice's signs in the score's unit, before anything has a place in px. */
import { ONE, over, times, toNumber, ZERO, type Rational, type SignId } from "../../base/index.js"
import {
  flatSigns,
  type Clef,
  type Dot,
  type Ligature,
  type Mark,
  type MensurationSign,
  type Note,
  type Page,
} from "../../page/index.js"
import type { Proportion, Rest, Sign, Signature, Voice } from "../../page/index.js"
import type { MensurationSpan, Reading, SignReading, Unit } from "../../reading/index.js"
import type { Score, ScoreVoice } from "../../score/index.js"
import { clefFor, notePosition, styleOf, type ClefPlace, type SignStyle } from "../signs/index.js"
import { wholeOf, type TimedSpan } from "./divisions.js"

export interface TimeInput {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
}

/** What stands close before a note or after it and has no moment of its own. */
export type Beside = Exclude<Sign, Note | Rest | Ligature>

/** A note or rest. */
export interface TimedSign {
  readonly sign: Note | Rest
  readonly reading: SignReading
  /** Among the notes and rests of its voice, from 0. */
  readonly index: number
  readonly onset: Rational
  readonly duration: Rational
  /** The same as numbers, for places in px. */
  readonly at: number
  readonly lasts: number
  /** The final of its voice: its band ends torn. */
  readonly held: boolean
  readonly ligature?: Ligature
  /** In a ligature: how many notes stand before it. */
  readonly inLigature?: number
  readonly clef: ClefPlace
  /** Steps above the bottom line. */
  readonly position: number
  readonly before: readonly Beside[]
  readonly after: readonly Dot[]
  /** What its level lasts undiminished, in the score's unit; undefined without a level. */
  readonly whole?: Rational
  /** In how many its level divides. */
  readonly parts?: 2 | 3
}

/**
 * What stands over the staff: a sign of mensuration or proportion at the moment from which it rules, a statement without a
 * sign, or what a performer must know of.
 */
export interface Capital {
  readonly at: number
  readonly sign?: MensurationSign | Proportion | Mark
  readonly span?: MensurationSpan
  /** The voice counts in minims. */
  readonly minims: boolean
}

export interface TimeVoice {
  readonly voice: Voice
  readonly reading: Reading
  readonly style: SignStyle
  readonly signs: readonly TimedSign[]
  readonly capitals: readonly Capital[]
  readonly spans: readonly TimedSpan[]
  readonly clef?: Clef
  readonly signature?: Signature
  /** Where the voice begins, and what is behind its last note. */
  readonly tail: readonly Beside[]
  readonly finalAt: number
  readonly byId: ReadonlyMap<SignId, TimedSign>
  readonly decided: ReadonlySet<SignId>
}

/** Voices in the score's order. A voice that has no reading is left out. */
export function timeVoices({ page, readings, score }: TimeInput): TimeVoice[] {
  const decided = new Set((page.decisions ?? []).map(one => one.sign))
  return score.voices.flatMap(scoreVoice => {
    const voice = page.voices.find(one => one.id === scoreVoice.id)
    const reading = readings.find(one => one.voice === scoreVoice.id)
    return voice && reading ? [timeVoice(voice, reading, scoreVoice, decided)] : []
  })
}

/** How many units of the score one unit of the voice lasts. */
function factorOf(reading: Reading, scoreVoice: ScoreVoice): Rational {
  const byId = new Map(reading.signs.map(sign => [sign.id, sign]))
  for (const event of scoreVoice.events) {
    const own = event.kind === "note" ? byId.get(event.id) : undefined
    if (event.kind === "note" && own && own.duration.num > 0) return over(event.readDuration, own.duration)
  }
  return ONE
}

function timeVoice(voice: Voice, reading: Reading, scoreVoice: ScoreVoice, decided: ReadonlySet<SignId>): TimeVoice {
  const factor = factorOf(reading, scoreVoice)
  const spans = reading.mensurations.map(span => ({
    span,
    unit: reading.unit,
    at: toNumber(times(span.onset, factor)),
    scale: over(factor, span.proportion.num > 0 ? span.proportion : ONE),
  }))
  const walk = new VoiceWalk(voice, reading, scoreVoice, factor, spans)
  const { signs, tail, capitals, clef, signature } = walk.all()
  return {
    voice,
    reading,
    style: walk.style,
    signs,
    capitals,
    spans,
    ...(clef ? { clef } : {}),
    ...(signature ? { signature } : {}),
    tail,
    finalAt: signs.findLast(sign => sign.held)?.at ?? Infinity,
    byId: new Map(signs.map(timed => [timed.sign.id, timed])),
    decided,
  }
}

interface Event {
  readonly onset: Rational
  readonly duration: Rational
  readonly held: boolean
}

class VoiceWalk {
  readonly style: SignStyle
  readonly #voice: Voice
  readonly #read: Map<SignId, SignReading>
  readonly #events = new Map<SignId, Event>()
  readonly #factor: Rational
  readonly #spans: readonly TimedSpan[]
  readonly #signs: (TimedSign & { after: Dot[] })[] = []
  readonly #unit: Unit
  #clef: ClefPlace
  #before: Beside[] = []
  #span = 0
  readonly #capitals: Capital[] = []
  /** Those whose moment is that of the next note or rest. */
  #marks: Mark[] = []

  constructor(voice: Voice, reading: Reading, score: ScoreVoice, factor: Rational, spans: readonly TimedSpan[]) {
    this.#voice = voice
    this.style = styleOf(voice)
    this.#read = new Map(reading.signs.map(sign => [sign.id, sign]))
    for (const event of score.events)
      if (event.id !== null) this.#events.set(event.id, { ...event, held: event.kind === "note" && event.held })
    this.#factor = factor
    this.#unit = reading.unit
    this.#spans = spans
    this.#clef = clefFor(voice, this.style)
  }

  all() {
    let [clef, signature]: [Clef | undefined, Signature | undefined] = [undefined, undefined]
    for (const { sign, ligature, at } of flatSigns(this.#voice)) {
      if (sign.kind === "note" || sign.kind === "rest") this.#lasting(sign, ligature, at)
      else if (sign.kind === "mensuration" || sign.kind === "proportion") this.#capitals.push(this.#capital(sign))
      else if (sign.kind === "mark" && !isOnStaff(sign)) this.#marks.push(sign)
      else if (sign.kind === "dot" && this.#signs.length > 0) this.#signs.at(-1)!.after.push(sign)
      else if (ligature) continue
      else if (sign.kind === "clef" && this.#signs.length === 0 && !clef) this.#clef = clef = sign
      else if (sign.kind === "signature" && this.#signs.length === 0 && !signature) signature = sign
      else this.#beside(sign)
    }
    this.#capitals.push(...this.#marks.map(sign => ({ at: this.#end(), sign, minims: false })))
    const capitals = [...this.#capitals]
    return { signs: this.#signs, tail: this.#before, capitals: this.#unwritten(capitals), clef, signature }
  }

  #end(): number {
    const last = this.#signs.at(-1)
    return last ? last.at + last.lasts : 0
  }

  #beside(sign: Beside): void {
    if (sign.kind === "clef") this.#clef = sign
    this.#before.push(sign)
  }

  #capital(sign: MensurationSign | Proportion): Capital {
    const span = this.#spans.find(one => one.span.sign === sign.id)
    const own = this.#read.get(sign.id)
    const at = own ? toNumber(times(own.onset, this.#factor)) : (span?.at ?? 0)
    return { at, sign, minims: this.#unit === "minima", ...(span ? { span: span.span } : {}) }
  }

  /** What rules without a sign is said too, where minims are counted. */
  #unwritten(written: readonly Capital[]): Capital[] {
    const stated = new Set(written.map(one => one.sign?.id))
    const silent = this.#spans.filter(({ span }) => span.sign === undefined || !stated.has(span.sign))
    return [...written, ...silent.map(({ at, span, unit }) => ({ at, span, minims: unit === "minima" }))].sort(
      (a, b) => a.at - b.at,
    )
  }

  #lasting(sign: Note | Rest, ligature: Ligature | undefined, inLigature: number | undefined): void {
    const reading = this.#read.get(sign.id)
    if (!reading) return
    const event = this.#events.get(sign.id)
    const onset = event?.onset ?? times(reading.onset, this.#factor)
    const duration = event?.duration ?? ZERO
    const [at, lasts] = [toNumber(onset), toNumber(duration)]
    while (this.#span + 1 < this.#spans.length && this.#spans[this.#span + 1]!.at <= at + 1e-9) this.#span++
    const position =
      sign.kind === "note" ? notePosition(sign, this.#clef, this.style) : (sign.loc ?? this.style.lines - 1)
    this.#signs.push({
      sign,
      reading,
      index: this.#signs.length,
      onset,
      duration,
      at,
      lasts,
      held: event?.held ?? false,
      ...(ligature ? { ligature, inLigature: inLigature ?? 0 } : {}),
      clef: this.#clef,
      position,
      before: this.#before,
      after: [],
      ...wholeOf(reading, this.#unit, this.#spans[this.#span]),
    })
    this.#before = []
    this.#capitals.push(...this.#marks.map(mark => ({ at, sign: mark, minims: false })))
    this.#marks = []
  }
}

/** Repeats are strokes through the staff; other marks stand over it. */
const isOnStaff = ({ of }: Mark): boolean => of === "repeat-start" || of === "repeat-end" || of === "refrain-end"

/** Index of the first that is at `from` or later; they are in the order of time. */
export function firstFrom(all: readonly { readonly at: number }[], from: number): number {
  let [low, high] = [0, all.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (all[middle]!.at < from - NEAR) low = middle + 1
    else high = middle
  }
  return low
}

/** Moments are held to be the same when they are so near: they were exact fractions. */
export const NEAR = 1e-6
