/** What a note that begins says against what sounds in the other voices of a hypothesis. */
import type { CounterpointWeights, Strength } from "../counterpoint/index.js"
import type { Backdrop } from "./backdrop.js"
import { soundAt, soundsOf } from "./rows.js"
import { LAST_BY_STEP, LAST_FALLS, NEXT_BY_STEP, SILENT, type Stands } from "./stands.js"

/** What sounds beside the voices, whatever way they take: what a tone says against it. */
export type Echo = Pick<Backdrop, "cost">

/** Asked of a hypothesis: the stands of all voices, in `state` from `at` on. */
export class Sounds {
  private readonly costs: Float64Array

  constructor(
    private readonly stands: Stands,
    private readonly count: number,
    weights: CounterpointWeights,
  ) {
    this.costs = soundsOf(weights)
  }

  /** What the next note of voice `v` says against what sounds in the other voices. */
  cost(state: Int32Array, at: number, v: number): number {
    const { stands, costs, count } = this
    const { until, last, onset, flags } = stands
    const stand = state[at + v]!
    const own = stands.coming[stand]!
    if (own === SILENT) return 0
    const begins = stands.end[stand]!
    const strength = stands.strength[stand]! as Strength
    const ownStep = stands.flags[stand]! & NEXT_BY_STEP
    const floor = this.floorOf(state, at, v, begins)
    let cost = 0
    for (let u = 0; u < count; u++) {
      const other = state[at + u]!
      const theirs = last[other]!
      if (u === v || until[other]! <= begins || theirs === SILENT) continue
      const together = onset[other] === begins
      const stepwise = ownStep !== 0 || (flags[other]! & (together ? LAST_BY_STEP : LAST_FALLS)) !== 0
      cost += costs[soundAt((own < theirs ? own : theirs) > floor, together, strength, own - theirs, stepwise)]!
    }
    return cost
  }

  /** Step of the lowest note of the others that sounds as this one begins, or begins with it. */
  private floorOf(state: Int32Array, at: number, v: number, begins: number): number {
    const { end, last, coming } = this.stands
    let floor = SILENT
    for (let u = 0; u < this.count; u++) {
      if (u === v) continue
      const other = state[at + u]!
      const sounding = end[other]! > begins ? last[other]! : coming[other]!
      if (sounding < floor) floor = sounding
    }
    return floor
  }
}
