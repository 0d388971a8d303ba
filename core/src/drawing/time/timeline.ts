/** What is written, at the moments when it sounds: each voice's signs in the score's unit, before anything has a place in px. */
import { ONE, over, times, toNumber, ZERO, type Rational, type SignId } from "../../base/index.js"
import {
  flatSigns,
  type Break,
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
import {
  clefFor,
  notePosition,
  shapesOf,
  styleOf,
  type ClefPlace,
  type Shapes,
  type SignStyle,
} from "../signs/index.js"
import { wholeOf, type TimedSpan } from "./divisions.js"
import { sameInput, sameTimed } from "./same.js"

export interface TimeInput {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
}

/** What stands close before a note or after it and has no moment of its own. */
export type Beside = Exclude<Sign, Note | Rest | Ligature>

/** A note or rest. While nothing about it changes it is the very same object from one layout to the next. */
export interface TimedSign {
  readonly sign: Note | Rest
  readonly reading: SignReading
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
  readonly whole: Rational | undefined
  /** In how many its level divides. */
  readonly parts: 2 | 3 | undefined
}

/**
 * What stands over the staff: a sign of mensuration or proportion at the moment from which it rules, a statement without a
 * sign, what a performer must know of, or where a line of the source ends.
 */
export interface Capital {
  readonly at: number
  readonly sign?: MensurationSign | Proportion | Mark | Break
  readonly span?: MensurationSpan
  /** The voice counts in minims. */
  readonly minims: boolean
}

/** Clef and signature in force from a moment on. */
export interface Head {
  readonly at: number
  readonly clef?: Clef
  readonly signature?: Signature
}

export interface TimeVoice {
  readonly voice: Voice
  readonly reading: Reading
  readonly events: ScoreVoice["events"]
  readonly style: SignStyle
  readonly signs: readonly TimedSign[]
  readonly capitals: readonly Capital[]
  readonly spans: readonly TimedSpan[]
  /** The first at 0. */
  readonly heads: readonly Head[]
  /** What is behind its last note. */
  readonly tail: readonly Beside[]
  readonly finalAt: number
  readonly byId: ReadonlyMap<SignId, TimedSign>
  readonly decided: ReadonlySet<SignId>
}

/** Voices in the score's order. A voice that has no reading is left out. `before` are those of the last layout. */
export function timeVoices({ page, readings, score }: TimeInput, before: readonly TimeVoice[] = []): TimeVoice[] {
  const shapes = shapesOf(page.shapes)
  const decided = new Set((page.decisions ?? []).map(one => one.sign))
  return score.voices.flatMap(scoreVoice => {
    const voice = page.voices.find(one => one.id === scoreVoice.id)
    const reading = readings.find(one => one.voice === scoreVoice.id)
    const known = before.find(one => one.voice.id === scoreVoice.id)
    return voice && reading ? [timeVoice({ voice, reading, scoreVoice, decided, shapes }, known)] : []
  })
}

export interface VoiceInput {
  readonly voice: Voice
  readonly reading: Reading
  readonly scoreVoice: ScoreVoice
  readonly decided: ReadonlySet<SignId>
  readonly shapes: Shapes | undefined
}

/** How many units of the score one unit of the voice lasts. */
function factorOf(reading: Reading, { events }: ScoreVoice): Rational {
  for (const event of events) {
    const own = event.kind === "note" ? reading.signs.find(sign => sign.id === event.id) : undefined
    if (event.kind === "note" && own && own.duration.num > 0) return over(event.readDuration, own.duration)
  }
  return ONE
}

function timeVoice(input: VoiceInput, before?: TimeVoice): TimeVoice {
  if (before && sameInput(before, input)) return before
  const { voice, reading, scoreVoice, decided } = input
  const factor = factorOf(reading, scoreVoice)
  const spans = reading.mensurations.map(span => ({
    span,
    unit: reading.unit,
    at: toNumber(times(span.onset, factor)),
    scale: over(factor, span.proportion.num > 0 ? span.proportion : ONE),
  }))
  const walk = new VoiceWalk(input, factor, spans, before)
  const { signs, ...rest } = walk.all()
  const byId = new Map<SignId, TimedSign>()
  for (const timed of signs) byId.set(timed.sign.id, timed)
  return {
    voice,
    events: scoreVoice.events,
    reading,
    style: walk.style,
    signs,
    ...rest,
    spans,
    finalAt: signs.findLast(sign => sign.held)?.at ?? Infinity,
    byId,
    decided,
  }
}

type Event = ScoreVoice["events"][number]

class VoiceWalk {
  readonly style: SignStyle
  readonly #voice: Voice
  readonly #read = new Map<SignId, SignReading>()
  readonly #events = new Map<SignId, Event>()
  readonly #factor: Rational
  readonly #spans: readonly TimedSpan[]
  readonly #known: ReadonlyMap<SignId, TimedSign> | undefined
  readonly #signs: TimedSign[] = []
  readonly #unit: Unit
  #clef: ClefPlace
  #head: Head = { at: 0 }
  readonly #heads: Head[] = []
  #before: Beside[] = []
  /** Of the last note, while it may still get some. */
  #after: Dot[] = []
  #span = 0
  readonly #capitals: Capital[] = []
  /** Those whose moment is that of the next note or rest. */
  #marks: (Mark | Break)[] = []

  constructor(
    { voice, reading, scoreVoice: score, shapes }: VoiceInput,
    factor: Rational,
    spans: readonly TimedSpan[],
    before: TimeVoice | undefined,
  ) {
    this.#voice = voice
    this.style = styleOf(voice, shapes)
    for (const sign of reading.signs) this.#read.set(sign.id, sign)
    for (const event of score.events) if (event.id !== null) this.#events.set(event.id, event)
    this.#factor = factor
    this.#unit = reading.unit
    this.#spans = spans
    this.#known = before?.byId
    this.#clef = clefFor(voice, this.style)
  }

  all(): Pick<TimeVoice, "signs" | "heads" | "tail" | "capitals"> {
    for (const { sign, ligature, at } of flatSigns(this.#voice)) {
      if (sign.kind === "note" || sign.kind === "rest") this.#lasting(sign, ligature, at)
      else if (sign.kind === "mensuration" || sign.kind === "proportion") this.#capitals.push(this.#capital(sign))
      else if (sign.kind === "mark" && !isOnStaff(sign)) this.#marks.push(sign)
      else if (sign.kind === "break") this.#marks.push(sign)
      else if (sign.kind === "dot" && this.#signs.length > 0) this.#after.push(sign)
      else if (!ligature) this.#beside(sign)
    }
    this.#settle()
    this.#capitals.push(...this.#marks.map(sign => ({ at: this.#end(), sign, minims: false })))
    this.#heads.push(this.#head)
    return { signs: this.#signs, heads: this.#heads, tail: this.#before, capitals: this.#unwritten(this.#capitals) }
  }

  #end(): number {
    const last = this.#signs.at(-1)
    return last ? last.at + last.lasts : 0
  }

  /** The first clef and signature stand in the margin, later ones before the next note. */
  #beside(sign: Beside): void {
    const opens =
      this.#signs.length === 0 && (sign.kind === "clef" || sign.kind === "signature") && !this.#head[sign.kind]
    if (sign.kind === "clef") this.#clef = sign
    if (sign.kind === "clef" || sign.kind === "signature") this.#turn({ [sign.kind]: sign })
    if (!opens) this.#before.push(sign)
  }

  #turn(change: Pick<Head, "clef" | "signature">): void {
    const at = this.#end()
    if (at > this.#head.at + NEAR) this.#heads.push(this.#head)
    this.#head = { ...this.#head, ...change, at }
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
    const all = [...written, ...silent.map(({ at, span, unit }): Capital => ({ at, span, minims: unit === "minima" }))]
    // where a line ends comes before what begins the next
    const isBreak = ({ sign }: Capital): number => (sign?.kind === "break" ? 0 : 1)
    return all.sort((a, b) => (Math.abs(a.at - b.at) < NEAR ? isBreak(a) - isBreak(b) : a.at - b.at))
  }

  #lasting(sign: Note | Rest, ligature: Ligature | undefined, inLigature: number | undefined): void {
    const reading = this.#read.get(sign.id)
    if (!reading) return
    this.#settle()
    const event = this.#events.get(sign.id)
    const onset = event?.onset ?? times(reading.onset, this.#factor)
    const duration = event?.duration ?? ZERO
    const [at, lasts] = [toNumber(onset), toNumber(duration)]
    while (this.#span + 1 < this.#spans.length && this.#spans[this.#span + 1]!.at <= at + 1e-9) this.#span++
    const position =
      sign.kind === "note" ? notePosition(sign, this.#clef, this.style) : (sign.loc ?? this.style.lines - 1)
    const { whole, parts } = wholeOf(reading, this.#unit, this.#spans[this.#span])
    this.#signs.push({
      sign,
      reading,
      onset,
      duration,
      at,
      lasts,
      held: event?.kind === "note" && event.held,
      ligature,
      inLigature: ligature ? (inLigature ?? 0) : undefined,
      clef: this.#clef,
      position,
      before: this.#before.length > 0 ? this.#before : NONE,
      after: this.#after,
      whole,
      parts,
    })
    if (this.#before.length > 0) this.#before = []
    for (const mark of this.#marks) this.#capitals.push({ at, sign: mark, minims: false })
    if (this.#marks.length > 0) this.#marks = []
  }

  /** All about the last note is known. */
  #settle(): void {
    const last = this.#signs.at(-1)
    if (last && this.#known) {
      const known = this.#known.get(last.sign.id)
      if (known && sameTimed(known, last)) this.#signs[this.#signs.length - 1] = known
    }
    this.#after = []
  }
}

const NONE: readonly Beside[] = []

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
