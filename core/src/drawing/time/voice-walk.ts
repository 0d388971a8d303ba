/** A voice gone through from left to right: each note and rest at its moment, with what stands beside it. */
import { equals, times, toNumber, ZERO, type Rational } from "../../base/index.js"
import {
  type Break,
  type Dot,
  type FlatSign,
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
import { sameSpan } from "./perfections.js"
import { sameList, sameReading, sameTimed, sameWith } from "./same.js"
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
  readonly #sameSpans: boolean
  readonly #known: InStep<TimedSign>
  readonly #signs: TimedSign[] = []
  readonly #unit: Unit
  #clef: ClefPlace
  #head: Head = { at: 0 }
  readonly #heads: Head[] = []
  #before: Beside[] = []
  /** The last note or rest: not yet among the signs. */
  #last: TimedSign | undefined
  /** The same sign in the last layout, and whether but for its dots nothing about it has changed: then it is `#last` itself. */
  #old: TimedSign | undefined
  #stands = false
  /** What stands behind it. */
  #dots: Dot[] = NO_DOTS
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
    this.#sameSpans = before !== undefined && sameWith(before.spans, spans, sameSpan)
    this.#known = new InStep(before?.signs ?? [], one => one.sign.id)
    this.#clef = clefFor(voice, this.style)
  }

  all(): Pick<TimeVoice, "signs" | "inOrder" | "heads" | "tail" | "capitals"> {
    for (const sign of this.#voice.signs) {
      if (sign.kind !== "ligature") this.#meet(sign, undefined, undefined)
      else this.#within(sign)
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

  #within(ligature: Ligature): void {
    let notes = 0
    for (const member of ligature.members) {
      this.#meet(member, ligature, notes)
      if (member.kind === "note") notes++
    }
  }

  #meet(sign: FlatSign["sign"], ligature: Ligature | undefined, at: number | undefined): void {
    if (sign.kind === "note" || sign.kind === "rest") this.#lasting(sign, ligature, at)
    else if (sign.kind === "mensuration" || sign.kind === "proportion") this.#capitals.push(this.#capital(sign))
    else if (sign.kind === "mark" && !isOnStaff(sign)) this.#marks.push(sign)
    else if (sign.kind === "break") this.#marks.push(sign)
    else if (sign.kind === "dot" && this.#last) this.#dot(sign)
    else if (!ligature) this.#beside(sign)
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
    const old = this.#known.of(sign.id)
    this.#old = old
    this.#stands = old !== undefined && old.ligature === ligature && this.#isStill(old, sign, reading, event)
    const timed = this.#stands ? old! : this.#timed(sign, reading, event, ligature && { ligature, at: inLigature ?? 0 })
    const { at } = timed
    if (this.#last && at < this.#last.at) this.#inOrder = false
    this.#spanAt(at)
    this.#last = timed
    if (this.#before.length > 0) this.#before = []
    if (this.#marks.length === 0) return
    for (const mark of this.#marks) this.#capitals.push({ at, sign: mark, minims: false })
    this.#marks = []
  }

  /** Nothing about it has changed that is known before its dots are. */
  #isStill(old: TimedSign, sign: Note | Rest, reading: SignReading, event: Event | undefined): boolean {
    return (
      this.#sameSpans &&
      old.sign === sign &&
      event !== undefined &&
      equals(old.onset, event.onset) &&
      equals(old.duration, event.duration) &&
      old.held === (event.kind === "note" && event.held) &&
      old.clef.shape === this.#clef.shape &&
      old.clef.line === this.#clef.line &&
      old.position === this.#position(sign) &&
      sameList(old.before, this.#before) &&
      sameReading(old.reading, reading)
    )
  }

  #timed(
    sign: Note | Rest,
    reading: SignReading,
    event: Event | undefined,
    within: { ligature: Ligature; at: number } | undefined,
  ): TimedSign {
    const onset = event?.onset ?? times(reading.onset, this.#factor)
    const duration = event?.duration ?? ZERO
    const at = toNumber(onset)
    const { whole, parts } = wholeOf(reading, this.#unit, this.#spanAt(at))
    return {
      sign,
      reading,
      onset,
      duration,
      at,
      lasts: toNumber(duration),
      held: event?.kind === "note" && event.held,
      ligature: within?.ligature,
      inLigature: within?.at,
      clef: this.#clef,
      position: this.#position(sign),
      before: this.#before.length > 0 ? this.#before : NONE,
      after: NO_DOTS,
      whole,
      parts,
    }
  }

  #position(sign: Note | Rest): number {
    return sign.kind === "note" ? notePosition(sign, this.#clef, this.style) : (sign.loc ?? this.style.lines - 1)
  }

  /** What rules at this moment; moments are asked for one after another. */
  #spanAt(at: number): TimedSpan | undefined {
    while (this.#span + 1 < this.#spans.length && this.#spans[this.#span + 1]!.at <= at + 1e-9) this.#span++
    return this.#spans[this.#span]
  }

  #dot(sign: Dot): void {
    if (this.#dots === NO_DOTS) this.#dots = [sign]
    else this.#dots.push(sign)
  }

  /** All about the last note is known. */
  #settle(): void {
    const last = this.#last
    if (!last) return
    const [old, dots] = [this.#old, this.#dots]
    this.#dots = NO_DOTS
    if (this.#stands && sameList(last.after, dots)) return void this.#signs.push(last)
    const timed = dots === last.after ? last : { ...last, after: dots }
    this.#signs.push(!this.#stands && old && sameTimed(old, timed) ? old : timed)
  }
}

const NONE: readonly Beside[] = []
const NO_DOTS: Dot[] = []

/** Repeats are strokes through the staff; other marks stand over it. */
const isOnStaff = ({ of }: Mark): boolean => of === "repeat-start" || of === "repeat-end" || of === "refrain-end"
