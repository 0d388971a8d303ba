/** A voice gone through from left to right: each note and rest at its moment, with what stands beside it. */
import { times, toNumber, ZERO, type Rational } from "../../base/index.js"
import {
  flatSigns,
  type Break,
  type Dot,
  type Ligature,
  type Mark,
  type MensurationSign,
  type Note,
  type Proportion,
  type Rest,
  type Voice,
} from "../../page/index.js"
import type { SignReading, Unit } from "../../reading/index.js"
import type { ScoreVoice } from "../../score/index.js"
import { clefFor, notePosition, styleOf, type ClefPlace, type SignStyle } from "../signs/index.js"
import { wholeOf, type TimedSpan } from "./divisions.js"
import { InStep } from "./in-step.js"
import { sameTimed } from "./same.js"
import {
  NEAR,
  type Beside,
  type Capital,
  type Head,
  type TimedSign,
  type TimeVoice,
  type VoiceInput,
} from "./timeline.js"

type Event = ScoreVoice["events"][number]

export class VoiceWalk {
  readonly style: SignStyle
  readonly #voice: Voice
  readonly #read: InStep<SignReading>
  readonly #events: InStep<Event>
  readonly #factor: Rational
  readonly #spans: readonly TimedSpan[]
  readonly #known: InStep<TimedSign>
  readonly #signs: TimedSign[] = []
  readonly #unit: Unit
  #clef: ClefPlace
  #head: Head = { at: 0 }
  readonly #heads: Head[] = []
  #before: Beside[] = []
  /** The last note or rest: not yet among the signs. */
  #last: Unsettled | undefined
  #span = 0
  #inOrder = true
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
    this.#read = new InStep(reading.signs, one => one.id)
    this.#events = new InStep(score.events, one => one.id)
    this.#factor = factor
    this.#unit = reading.unit
    this.#spans = spans
    this.#known = new InStep(before?.signs ?? [], one => one.sign.id)
    this.#clef = clefFor(voice, this.style)
  }

  all(): Pick<TimeVoice, "signs" | "inOrder" | "heads" | "tail" | "capitals"> {
    for (const { sign, ligature, at } of flatSigns(this.#voice)) {
      if (sign.kind === "note" || sign.kind === "rest") this.#lasting(sign, ligature, at)
      else if (sign.kind === "mensuration" || sign.kind === "proportion") this.#capitals.push(this.#capital(sign))
      else if (sign.kind === "mark" && !isOnStaff(sign)) this.#marks.push(sign)
      else if (sign.kind === "break") this.#marks.push(sign)
      else if (sign.kind === "dot" && this.#last) this.#dot(sign)
      else if (!ligature) this.#beside(sign)
    }
    this.#settle()
    this.#capitals.push(...this.#marks.map(sign => ({ at: this.#end(), sign, minims: false })))
    this.#heads.push(this.#head)
    return {
      signs: this.#signs,
      inOrder: this.#inOrder,
      heads: this.#heads,
      tail: this.#before,
      capitals: this.#unwritten(this.#capitals),
    }
  }

  #end(): number {
    return this.#last ? this.#last.at + this.#last.lasts : 0
  }

  /** The first clef and signature stand in the margin, later ones before the next note. */
  #beside(sign: Beside): void {
    const opens = !this.#last && (sign.kind === "clef" || sign.kind === "signature") && !this.#head[sign.kind]
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
    const own = this.#read.of(sign.id)
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
    const reading = this.#read.of(sign.id)
    if (!reading) return
    this.#settle()
    const event = this.#events.of(sign.id)
    const onset = event?.onset ?? times(reading.onset, this.#factor)
    const duration = event?.duration ?? ZERO
    const at = toNumber(onset)
    if (this.#last && at < this.#last.at) this.#inOrder = false
    while (this.#span + 1 < this.#spans.length && this.#spans[this.#span + 1]!.at <= at + 1e-9) this.#span++
    const { whole, parts } = wholeOf(reading, this.#unit, this.#spans[this.#span])
    this.#last = {
      sign,
      reading,
      onset,
      duration,
      at,
      lasts: toNumber(duration),
      held: event?.kind === "note" && event.held,
      ligature,
      inLigature: ligature ? (inLigature ?? 0) : undefined,
      clef: this.#clef,
      position: sign.kind === "note" ? notePosition(sign, this.#clef, this.style) : (sign.loc ?? this.style.lines - 1),
      before: this.#before.length > 0 ? this.#before : NONE,
      after: NO_DOTS,
      whole,
      parts,
    }
    if (this.#before.length > 0) this.#before = []
    if (this.#marks.length === 0) return
    for (const mark of this.#marks) this.#capitals.push({ at, sign: mark, minims: false })
    this.#marks = []
  }

  #dot(sign: Dot): void {
    const last = this.#last!
    if (last.after === NO_DOTS) last.after = [sign]
    else last.after.push(sign)
  }

  /** All about the last note is known. */
  #settle(): void {
    const last = this.#last
    if (!last) return
    const known = this.#known.of(last.sign.id)
    this.#signs.push(known && sameTimed(known, last) ? known : last)
  }
}

/** A note or rest behind which there may still be dots. */
type Unsettled = Omit<TimedSign, "after"> & { after: Dot[] }

const NONE: readonly Beside[] = []
const NO_DOTS: Dot[] = []

/** Repeats are strokes through the staff; other marks stand over it. */
const isOnStaff = ({ of }: Mark): boolean => of === "repeat-start" || of === "repeat-end" || of === "refrain-end"
