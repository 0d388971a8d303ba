/** The modern signs of one voice with their moments, forms and beams, before they have a place. */
import { over, times, toNumber, type Rational } from "../../../base/index.js"
import { beamGroups, modernValue, type LayerItem, type NotatedSign, type ScoreVoice } from "../../../score/index.js"
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

export function modernVoice({ notated, from, to }: Passage, id: string): ModernVoice {
  const index = notated.score.voices.findIndex(one => one.id === id)
  const score = notated.score.voices[index]!
  const clef = modernClef(score)
  const walk = new Walk(clef, notated.wholesPerUnit, notated.meters[index] ?? null, from)
  for (const { layers, start, end } of notated.blocks) walk.layer(layers[index]!, start, end)
  return {
    clef,
    score,
    signs: walk.signs.filter(({ at }) => at >= from - NEAR && at < to - NEAR),
    bars: barsOf(score, to).filter(at => at > from + NEAR),
    meter: walk.meter,
  }
}

/** Moments at which bars begin, by the voice's own mensuration. */
function barsOf({ mensurations }: ScoreVoice, to: number): number[] {
  const bars: number[] = []
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
  readonly #from: number
  /** That in force at `from`, and one that is to stand before the next sign. */
  meter: Meter | null
  #change: Meter | undefined

  constructor(clef: ModernClef, wholesPerUnit: Rational, meter: Meter | null, from: number) {
    this.#clef = clef
    this.#wholes = wholesPerUnit
    this.meter = meter
    this.#from = from
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
    const before = meter ? { meter } : {}
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
    if (change && at <= this.#from + NEAR) this.meter = change
    return change && at > this.#from + NEAR ? change : undefined
  }

  /** A final is written as the one sign that lasts as long as it was read, or as a breve. */
  #heldValue({ event, value }: NotatedSign): NotatedSign["value"] {
    if (event.kind !== "note") return value
    return modernValue(times(event.readDuration, this.#wholes)) ?? { dur: "breve", dots: 0 }
  }
}

export const stemmed = ({ sign }: ModernSign): boolean => sign.event.kind === "note" && hasStem(sign.value.dur)
