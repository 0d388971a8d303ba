/** Where the axis is cut when it is longer than the picture. */
import type { FormedVoice } from "./formed.js"
import type { Look } from "./options.js"
import { sameWith } from "./same.js"
import { commonScales, commonTo, scaledTo, type Needing, type ScaledSystem, type System } from "./scales.js"
import { beginningAt, nextKey, strandsOf, type Sum } from "./strands.js"
import { NEAR } from "./timeline.js"

/** So many more systems one scale for all may take, and in parts of their number. */
const FEW_MORE = 2
const MANY_MORE = 0.25
/** The same for a scale that is not all systems'. */
const SOME_MORE = 0.08
/** Systems are seldom fuller than this on the whole where scales differ: one with which they would have to be is not tried. */
const FULLEST = 0.86

/** What a system costs: to be there at all, for the room that it leaves, and for a bad place to end at. */
const THERE = 1
const UNFILLED = 6
const BAD_CUT = 1.2

/**
 * The axis over all voices, for cutting it to any width: what their signs need, and where it is good to cut. Given that of the
 * last layout, all is taken over that stands before the first change.
 */
export class Cutting {
  readonly #range: System
  /** Moments at which the axis may be cut, in order; first and last are its ends. */
  readonly #moments: number[] = []
  /** The most that anything needs that begins at this moment or after it and before the next. */
  readonly #needs: number[] = []
  /** From 0, where all voices begin a perfection, to 2, where nothing begins and all that sounds is cut through. */
  readonly #badness: number[] = []
  /** By the number of an end. */
  readonly #reaches = new Map<number, Reach[]>()
  /** By the room for which it was cut, and the scale that all have at the least. */
  readonly #cuts = new Map<string, Cuts>()
  readonly #cutsBefore: ReadonlyMap<string, Cuts> | undefined
  /** How many of the first moments are as they were. */
  readonly #same: number

  /** The very one of the last layout where nothing has changed by which the axis is cut: another pitch, say. */
  static of(voices: readonly FormedVoice[], range: System, look: Look, before?: CutBefore): Cutting {
    const known = before?.cutting
    const isSame =
      known !== undefined &&
      known.#range.from === range.from &&
      known.#range.to === range.to &&
      sameWith(voices, before!.voices, cutAlike)
    return isSame ? known : new Cutting(voices, range, look, known)
  }

  constructor(voices: readonly FormedVoice[], range: System, look: Look, before?: Cutting) {
    const { from, to } = range
    this.#range = range
    const most = mostSoft(voices, { from, to })
    const least = 6 * look.size
    const { length } = voices
    const strands = voices.flatMap(voice => strandsOf(voice, most, { from, to }))
    strands.push(beginningAt(from))
    const sum: Sum = { at: NaN, need: least, worth: 0, begin: 0 }
    for (let key = nextKey(strands); key < Infinity; key = nextKey(strands)) {
      sum.at = NaN
      sum.need = least
      sum.worth = sum.begin = 0
      for (const strand of strands) strand.addAll(key, sum)
      this.#moments.push(sum.at)
      this.#needs.push(sum.need)
      this.#badness.push(1 - Math.min(1, sum.worth / (BEST_WORTH * length)) + (length - sum.begin) / length)
    }
    this.#moments.push(to)
    for (const voice of voices) this.#reachOut(voice, look)
    this.#cutsBefore = before && before.#cuts
    this.#same = before ? this.#sameAs(before) : 0
  }

  #sameAs(before: Cutting): number {
    let same = 0
    while (
      same < this.#badness.length &&
      this.#moments[same] === before.#moments[same] &&
      this.#needs[same] === before.#needs[same] &&
      this.#badness[same] === before.#badness[same] &&
      sameReaches(this.#reaches.get(same), before.#reaches.get(same))
    )
      same++
    return same
  }

  /**
   * The systems for so many px: all of one scale, or all but a few that need more, unless that takes many more of them than
   * each being as wide as it needs.
   */
  cutTo(room: number): ScaledSystem[] {
    const own = this.#cut(room, 0)
    return this.#evenly(room, own) ?? scaledTo(room, own, this.#range)
  }

  #evenly(room: number, own: readonly Needing[]): ScaledSystem[] | undefined {
    if (own.length < 2) return undefined
    const { from, to } = this.#range
    for (const [i, needed] of commonScales(own).entries()) {
      const [more, fullest] = i === 0 ? [MANY_MORE, 1] : [SOME_MORE, FULLEST]
      const most = own.length + Math.max(FEW_MORE, own.length * more)
      if (((to - from) * needed) / room > most * fullest) continue
      const even = this.#cut(room, needed)
      const scaled = even.length > most ? undefined : commonTo(room, even, needed)
      if (scaled) return scaled
    }
    return undefined
  }

  /** A wide body near the end of a system, of a sign whose time goes on in the next, is not to reach out of the picture. */
  #reachOut({ time, forms }: FormedVoice, look: Look): void {
    const free = look.right - FREE * look.size
    for (let i = 0; i < forms.length; i++) {
      const out = look.after + forms[i]!.box.right - free
      if (out <= 0) continue
      const { at, lasts } = time.signs[i]!
      for (let end = firstAfter(this.#moments, at); this.#moments[end]! < at + lasts - NEAR; end++) {
        const known = this.#reaches.get(end) ?? []
        known.push({ at, need: out / (this.#moments[end]! - at) })
        this.#reaches.set(end, known)
      }
    }
  }

  /** So that all cost as little as they can together. */
  #cut(room: number, scale: number): Needing[] {
    const ends = this.#moments.length - 1
    const key = `${room} ${scale}`
    const cuts = this.#cuts.get(key) ?? this.#cheapest(room, scale, this.#cutsBefore?.get(key))
    this.#cuts.set(key, cuts)
    const { befores, needs } = cuts
    const systems: Needing[] = []
    for (let end = ends; end > 0; end = befores[end]!)
      systems.unshift({ from: this.#moments[befores[end]!]!, to: this.#moments[end]!, need: needs[end]! })
    return systems
  }

  #cheapest(room: number, scale: number, known: Cuts | undefined): Cuts {
    const ends = this.#moments.length - 1
    const cuts = cutsOf(ends + 1)
    // what it costs to come to an end hangs on nothing that stands later, but for the last end of all
    const first = known ? Math.min(this.#same, ends, known.costs.length - 1) : 1
    if (known) takeOver(known, cuts, first)
    for (let end = Math.max(1, first); end <= ends; end++) this.#bestTo(end, room, scale, cuts)
    return cuts
  }

  /** The cheapest way of cutting all that stands before one end. */
  #bestTo(end: number, room: number, scale: number, { costs, befores, needs }: Cuts): void {
    // the innermost loop of all: what it asks for is at hand
    const [moments, own] = [this.#moments, this.#needs]
    const reaches = this.#reaches.get(end)
    const to = moments[end]!
    const isLast = end === moments.length - 1
    const unfilledCost = isLast ? UNFILLED / 4 : UNFILLED
    const badCut = isLast ? 0 : BAD_CUT * this.#badness[end]!
    let need = scale
    let best = Infinity
    let from = end - 1
    let bestNeed = 0
    for (let start = end - 1; start >= 0; start--) {
      if (own[start]! > need) need = own[start]!
      const least = reaches ? Math.max(need, reachFrom(moments[start]!, reaches)) : need
      const fill = (least * (to - moments[start]!)) / room
      // what is too wide even by itself has to stand somewhere
      if (fill > 1 && start < end - 1) break
      const unfilled = fill < 1 ? 1 - fill : 0
      const cost = costs[start]! + (THERE + unfilledCost * (unfilled * unfilled) + badCut)
      if (cost >= best) continue
      best = cost
      from = start
      bestNeed = least
    }
    costs[end] = best
    befores[end] = from
    needs[end] = bestNeed
  }
}

/** The last layout, in the same look. */
interface CutBefore {
  readonly voices: readonly FormedVoice[]
  readonly cutting: Cutting
}

/** In all that tells where the axis may be cut and how wide a unit has to be. */
function cutAlike(one: FormedVoice, other: FormedVoice): boolean {
  if (one === other) return true
  const [signs, others] = [one.time.signs, other.time.signs]
  if (one.ruled !== other.ruled || signs.length !== others.length) return false
  for (let i = 0; i < signs.length; i++)
    if (
      signs[i]!.at !== others[i]!.at ||
      signs[i]!.lasts !== others[i]!.lasts ||
      one.hard[i] !== other.hard[i] ||
      one.soft[i] !== other.soft[i] ||
      one.forms[i]!.box.right !== other.forms[i]!.box.right
    )
      return false
  return true
}

/** By the number of an end: what it costs to come so far, where the last system then begins, and what that needs. */
interface Cuts {
  readonly costs: Float64Array
  readonly befores: Int32Array
  readonly needs: Float64Array
}

const cutsOf = (length: number): Cuts => ({
  costs: new Float64Array(length),
  befores: new Int32Array(length),
  needs: new Float64Array(length),
})

function takeOver(from: Cuts, to: Cuts, count: number): void {
  to.costs.set(from.costs.subarray(0, count))
  to.befores.set(from.befores.subarray(0, count))
  to.needs.set(from.needs.subarray(0, count))
}

/** A sign whose body would reach out of the picture: where it begins, and px in a unit that keep it within. */
interface Reach {
  readonly at: number
  readonly need: number
}

const sameReaches = (one: readonly Reach[] | undefined, other: readonly Reach[] | undefined): boolean =>
  one === other ||
  (one !== undefined &&
    one.length === other?.length &&
    one.every(({ at, need }, i) => at === other[i]!.at && need === other[i]!.need))

/** Px in a unit that such signs need in a system that begins here. */
function reachFrom(moment: number, reaches: readonly Reach[]): number {
  let need = 0
  for (const one of reaches) if (one.at >= moment - NEAR) need = Math.max(need, one.need)
  return need
}

/** Px at full size between a sign and the edge of the picture. */
const FREE = 6

function firstAfter(moments: readonly number[], at: number): number {
  let [low, high] = [0, moments.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (moments[middle]! > at + NEAR) high = middle
    else low = middle + 1
  }
  return low
}

/** A sign and a larger perfection begin. */
const BEST_WORTH = 3

/** A few signs that want more room than all others do not make their system wide: they are set otherwise instead. */
const ORDINARY = 0.97
const STRETCH = 1.5

/** In steps, so that one sign more or less seldom changes it. */
function mostSoft(voices: readonly FormedVoice[], { from, to }: System): number {
  // numbers of one kind sort several times faster than a list that may hold anything
  const all = new Float64Array(voices.reduce((sum, { soft }) => sum + soft.length, 0))
  let count = 0
  for (const { time, soft } of voices) {
    const { signs } = time
    for (let i = 0; i < signs.length; i++) {
      const { at } = signs[i]!
      if (at >= from - NEAR && at < to && soft[i]! > 0) all[count++] = soft[i]!
    }
  }
  const sorted = all.subarray(0, count).sort()
  const ordinary = sorted[Math.floor((count - 1) * ORDINARY)] ?? 0
  return ordinary === 0 ? 0 : 1.1 ** Math.ceil(Math.log(ordinary * STRETCH) / Math.log(1.1))
}
