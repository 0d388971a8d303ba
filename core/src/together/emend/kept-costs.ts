/**
 * What figures cost where they begin at some time, kept in long rows: the same notes are asked about with every change of a
 * voice, millions of times.
 */
import type { Tone } from "../../counterpoint/index.js"
import type { Backdrop } from "../backdrop.js"
import { roomFor } from "../grown.js"
import type { Metre } from "./metre.js"

/** All that the sound of a figure and its place in the measure depend on beside its time. Times in ticks of the common unit. */
export interface Kind {
  readonly tone: Tone
  readonly lasts: number
  readonly isFinal: boolean
  readonly strong: number
  readonly medium: number
  /** When its stretch began. */
  readonly origin: number
  readonly shape: string
}

const FEWEST = 1 << 12
/** Numbers that tell one kind from another. */
const FIELDS = 7
/** For the step of a rest. */
const NO_STEP = -(2 ** 20)

/** Numbers that stand in a slot: the kind, the time, the cost. Side by side: they are looked up too often to be fetched from far apart. */
const SLOT = 3
const EMPTY = -1

export class KeptCosts {
  /** By slot: what it costs to have such a figure then, but for its rules; see `find`. */
  costs = new Float64Array(FEWEST * SLOT).fill(EMPTY)
  private count = 0
  /** By kind: its fields. By slot of another table: a kind, or -1. */
  private fields = new Float64Array(FEWEST * FIELDS)
  private kinds = 0
  private kindAt = new Int32Array(FEWEST).fill(-1)
  private readonly own = new Float64Array(FIELDS)
  private readonly shapes = new Map<string, number>()

  constructor(readonly metre: Metre | undefined) {}

  /** One number for all figures that cost the same at the same time, but for their rules. */
  kindOf({ tone, lasts, isFinal, strong, medium, origin, shape }: Kind): number {
    const { own } = this
    own[0] = Number.isNaN(tone.step) ? NO_STEP : tone.step
    own[1] = Number(tone.byStep) + 2 * Number(tone.falls) + 4 * Number(isFinal)
    own[2] = lasts
    own[3] = strong
    own[4] = medium
    own[5] = origin
    own[6] = this.shapeNumber(shape)
    const mask = this.kindAt.length - 1
    let slot = mixed(64 * own[0] + 8 * own[6] + own[1], lasts + 7 * origin) & mask
    for (let kind = this.kindAt[slot]!; kind >= 0; kind = this.kindAt[slot]!) {
      if (this.isKind(kind)) return kind
      slot = (slot + 1) & mask
    }
    return this.newKind(slot)
  }

  private isKind(kind: number): boolean {
    const { own, fields } = this
    for (let i = 0; i < FIELDS; i++) if (fields[kind * FIELDS + i] !== own[i]) return false
    return true
  }

  private newKind(slot: number): number {
    const kind = this.kinds++
    this.fields = roomFor(this.fields, this.kinds * FIELDS)
    this.fields.set(this.own, kind * FIELDS)
    this.kindAt[slot] = kind
    if (2 * this.kinds > this.kindAt.length) this.spreadKinds()
    return kind
  }

  private spreadKinds(): void {
    const { fields } = this
    const mask = 2 * this.kindAt.length - 1
    this.kindAt = new Int32Array(mask + 1).fill(-1)
    for (let kind = 0; kind < this.kinds; kind++) {
      const [step, how, lasts, , , origin, shape] = fields.subarray(kind * FIELDS, (kind + 1) * FIELDS)
      let slot = mixed(64 * step! + 8 * shape! + how!, lasts! + 7 * origin!) & mask
      while (this.kindAt[slot]! >= 0) slot = (slot + 1) & mask
      this.kindAt[slot] = kind
    }
  }

  private shapeNumber(shape: string): number {
    let known = this.shapes.get(shape)
    if (known === undefined) this.shapes.set(shape, (known = this.shapes.size))
    return known
  }

  /** Where in `costs` that of a kind at a time stands; -1: it is not known. */
  find(kind: number, time: number): number {
    const { costs } = this
    const at = this.slotOf(kind, time)
    return costs[at] === EMPTY ? -1 : at + 2
  }

  /** The slot of a kind at a time, or the one that is free for it. */
  private slotOf(kind: number, time: number): number {
    const { costs } = this
    const { length } = costs
    let at = (mixed(kind, time) & (length / SLOT - 1)) * SLOT
    while (costs[at] !== EMPTY && (costs[at] !== kind || costs[at + 1] !== time)) {
      at += SLOT
      if (at === length) at = 0
    }
    return at
  }

  /** Puts down the cost of a kind at a time, and says where it stands until the next is put down. */
  put(kind: number, time: number, cost: number): number {
    if (2 * ++this.count > this.costs.length / SLOT) this.spread()
    const at = this.slotOf(kind, time)
    this.costs[at] = kind
    this.costs[at + 1] = time
    this.costs[at + 2] = cost
    return at + 2
  }

  /** Twice as many slots. */
  private spread(): void {
    const { costs } = this
    this.costs = new Float64Array(2 * costs.length).fill(EMPTY)
    for (let from = 0; from < costs.length; from += SLOT) {
      if (costs[from] === EMPTY) continue
      const at = this.slotOf(costs[from]!, costs[from + 1]!)
      for (let i = 0; i < SLOT; i++) this.costs[at + i] = costs[from + i]!
    }
  }
}

/** A number that is seldom alike for others; the times are whole multiples of large numbers. */
function mixed(kind: number, time: number): number {
  const x = Math.imul(Math.imul(kind + 1, 0x9e3779b1) ^ (time | 0), 0x85ebca6b)
  const y = Math.imul(x ^ (x >>> 13), 0xc2b2ae35)
  return (y ^ (y >>> 16)) >>> 1
}

const known = new WeakMap<Backdrop, KeptCosts>()

/** The costs of notes against these voices, in such a measure. */
export function keptCosts(backdrop: Backdrop, metre: Metre | undefined): KeptCosts {
  let kept = known.get(backdrop)
  if (kept === undefined || kept.metre !== metre) known.set(backdrop, (kept = new KeptCosts(metre)))
  return kept
}
