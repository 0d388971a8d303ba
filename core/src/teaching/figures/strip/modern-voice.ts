/** The modern signs of one voice with their moments, forms and beams, before they have a place. */
import { over, plus, times, toNumber, type Rational } from "../../../base/index.js"
import { beamGroups, modernValue, type LayerItem, type NotatedSign, type ScoreVoice } from "../../../score/index.js"
import { markBox } from "../../../drawing/index.js"
import { NEAR, type Passage } from "../passage.js"
import {
  behindMeter,
  directionAt,
  hasStem,
  noteForm,
  restForm,
  type Direction,
  type ModernForm,
} from "../modern/forms.js"
import { modernClef, type ModernClef } from "../modern/opening.js"
import { AFTER } from "./look.js"

export interface ModernSign {
  readonly sign: NotatedSign
  /** In the score's unit. */
  readonly at: number
  readonly until: number
  readonly position: number
  readonly direction: Direction
  readonly held: boolean
  /** A rest through a whole bar stands in its middle. */
  readonly centred?: boolean
  /** Number of its beam, and of its tuplet. */
  readonly beam?: number
  readonly tuplet?: { readonly n: number; readonly num: number }
  /** Before it, where it changes. */
  readonly meter?: Meter
  /** Without its beam. */
  readonly form: ModernForm
  /** Where a meter stands before it: the sign alone. */
  readonly bare?: ModernForm
}

export interface ModernVoice {
  readonly clef: ModernClef
  readonly score: ScoreVoice
  readonly signs: readonly ModernSign[]
  /** Ends of bars. */
  readonly bars: readonly number[]
  /** In force where the passage begins. */
  readonly meter: Meter | null
}
type Meter = NonNullable<Passage["notated"]["meters"][number]>

/** The part of a voice that a passage shows. */
export function modernVoice({ notated, from, to }: Passage, id: string): ModernVoice {
  const { signs, bars, meters, ...voice } = wholeVoice(notated, id)
  const shown = signs.filter(({ at }) => at >= from - NEAR && at < to - NEAR)
  return {
    ...voice,
    signs: shown.map(one => (one.meter && one.at <= from + NEAR ? withoutMeter(one) : one)),
    bars: bars.filter(at => at > from + NEAR && at < to - NEAR),
    meter: meters.findLast(({ at }) => at <= from + NEAR)?.meter ?? null,
  }
}

interface WholeVoice extends Omit<ModernVoice, "meter"> {
  /** The first, and each new one with its moment. */
  readonly meters: readonly { readonly at: number; readonly meter: Meter | null }[]
}

const wholes = new WeakMap<Passage["notated"], Map<string, WholeVoice>>()

/** Many passages of one piece are tried until one fits. */
function wholeVoice(notated: Passage["notated"], id: string): WholeVoice {
  const known = wholes.get(notated) ?? new Map<string, WholeVoice>()
  wholes.set(notated, known)
  const voice = known.get(id) ?? walked(notated, id)
  known.set(id, voice)
  return voice
}

function walked(notated: Passage["notated"], id: string): WholeVoice {
  const index = notated.score.voices.findIndex(one => one.id === id)
  const score = notated.score.voices[index]!
  const clef = modernClef(score)
  const walk = new Walk(clef, notated.wholesPerUnit, notated.meters[index] ?? null)
  for (const { layers, start, end } of notated.blocks) walk.layer(layers[index]!, start, end)
  return { clef, score, signs: walk.signs, bars: barsOf(score), meters: walk.meters }
}

function withoutMeter({ meter: _, bare, ...sign }: ModernSign): ModernSign {
  return bare ? { ...sign, form: bare } : sign
}

/** Moments at which bars begin, by the voice's own mensuration. */
function barsOf({ mensurations, events }: ScoreVoice): number[] {
  const bars: number[] = []
  const last = events.at(-1)
  const to = last ? toNumber(plus(last.onset, last.duration)) : 0
  mensurations.forEach(({ onset, periods }, i) => {
    const next = mensurations[i + 1]
    const until = Math.min(next ? toNumber(next.onset) : Infinity, to)
    const period = periods[0] ? toNumber(periods[0]) : 0
    if (period <= 0) return
    for (let n = 0; toNumber(onset) + n * period < until - NEAR; n++) bars.push(toNumber(onset) + n * period)
  })
  return bars
}

/** A sign that stands alone, under a beam, or in a tuplet. */
type Company = Pick<ModernSign, "beam" | "tuplet"> & { readonly direction?: Direction }

class Walk {
  readonly signs: ModernSign[] = []
  readonly #clef: ModernClef
  readonly #wholes: Rational
  #beams = 0
  #tuplets = 0
  readonly meters: { at: number; meter: Meter | null }[]
  /** One that is to stand before the next sign. */
  #change: Meter | undefined

  constructor(clef: ModernClef, wholesPerUnit: Rational, meter: Meter | null) {
    this.#clef = clef
    this.#wholes = wholesPerUnit
    this.meters = [{ at: 0, meter }]
  }

  #unit(wholes: Rational): number {
    return toNumber(over(wholes, this.#wholes))
  }

  layer(items: readonly LayerItem[], start: Rational, end: Rational): void {
    for (const item of beamGroups(items)) {
      if (Array.isArray(item)) this.#beamed(item)
      else if (item.kind === "sign") this.#sign(item, {})
      else if (item.kind === "tuplet") this.#tuplet(item)
      else if (item.kind === "bar-rest") this.#barRest(item, start, end)
      else if (item.kind === "meter") this.#change = item.meter
    }
  }

  #barRest({ event, part }: Extract<LayerItem, { kind: "bar-rest" }>, start: Rational, end: Rational): void {
    const value = { dur: "1", dots: 0 } as const
    const sign: NotatedSign = { kind: "sign", event, part, last: false, value, start, end, beat: "" }
    const [at, until] = [this.#unit(start), this.#unit(end)]
    const form = restForm(value)
    this.signs.push({ sign, at, until, position: 4, direction: "up", held: false, centred: true, form })
  }

  #tuplet({ signs, num }: Extract<LayerItem, { kind: "tuplet" }>): void {
    const tuplet = { n: ++this.#tuplets, num }
    for (const group of beamGroups(signs)) {
      if (Array.isArray(group)) this.#beamed(group, { tuplet })
      else if (group.kind === "sign") this.#sign(group, { tuplet })
    }
  }

  #beamed(group: readonly NotatedSign[], more: Company = {}): void {
    const beam = ++this.#beams
    const positions = group.map(one => this.#position(one))
    const middle = (Math.max(...positions) + Math.min(...positions)) / 2
    for (const one of group) this.#sign(one, { ...more, beam, direction: directionAt(middle) })
  }

  #position({ event }: NotatedSign): number {
    return event.kind === "note" ? this.#clef.positionOf(event.pitch) : 4
  }

  #sign(sign: NotatedSign, { direction, ...company }: Company): void {
    const { event } = sign
    const position = this.#position(sign)
    const own = direction ?? directionAt(position)
    const held = event.kind === "note" && event.held
    if (held && sign.part > 0) return
    const value = held ? this.#heldValue(sign) : sign.value
    const accidental = sign.part === 0 ? sign.accidental : undefined
    const fermata = held || event.fermata
    const form =
      event.kind === "rest" ? restForm(value) : noteForm(value, { position, direction: own, accidental, fermata })
    const [at, until] = [this.#unit(sign.start), this.#unit(sign.end)]
    const meter = this.#meterBefore(at)
    const whole = meter ? behindMeter(form, meter) : form
    const before = meter ? { meter, bare: form } : {}
    this.signs.push({
      sign: { ...sign, value },
      at,
      until,
      position,
      direction: own,
      held,
      form: whole,
      ...before,
      ...company,
    })
  }

  /** A change that is to be seen before the sign at this moment. */
  #meterBefore(at: number): Meter | undefined {
    const change = this.#change
    this.#change = undefined
    if (change) this.meters.push({ at, meter: change })
    return change
  }

  /** A final is written as the one sign that lasts as long as it was read, or as a breve. */
  #heldValue({ event, value }: NotatedSign): NotatedSign["value"] {
    if (event.kind !== "note") return value
    return modernValue(times(event.readDuration, this.#wholes)) ?? { dur: "breve", dots: 0 }
  }
}

/** How far before its moment a bar line stands, for an accidental or a change of meter that stands out before a head. */
export function barShift(next: ModernForm | undefined, space: number): number {
  const before = next?.marks.filter(({ part }) => part === "modern-accidental" || part === "meter") ?? []
  const reach = Math.min(0, ...before.map(one => markBox(one).left))
  return Math.min(0, AFTER + reach * space - 8)
}

export const stemmed = ({ sign }: ModernSign): boolean => sign.event.kind === "note" && hasStem(sign.value.dur)
