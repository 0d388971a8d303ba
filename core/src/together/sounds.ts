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
  /** Stands of the voices that sound as the note begins, and how many. */
  private readonly sounding: Int32Array
  private count = 0

  constructor(
    private readonly stands: Stands,
    private readonly voices: number,
    weights: CounterpointWeights,
  ) {
    this.costs = soundsOf(weights)
    this.sounding = new Int32Array(voices)
  }

  /** What the next note of voice `v` says against what sounds in the other voices. */
  cost(state: Int32Array, at: number, v: number): number {
    const { last, onset, flags, coming, end, strength } = this.stands
    const { costs, sounding } = this
    const next = state[at + v]!
    const own = coming[next]!
    if (own === SILENT) return 0
    const begins = end[next]!
    const place = strength[next]! as Strength
    const ownStep = flags[next]! & NEXT_BY_STEP
    const floor = this.listen(state, at, v, begins)
    const { count } = this
    let cost = 0
    for (let i = 0; i < count; i++) {
      const other = sounding[i]!
      const theirs = last[other]!
      const together = onset[other] === begins
      const stepwise = ownStep !== 0 || (flags[other]! & (together ? LAST_BY_STEP : LAST_FALLS)) !== 0
      cost += costs[soundAt((own < theirs ? own : theirs) > floor, together, place, own - theirs, stepwise)]!
    }
    return cost
  }

  /** Finds the others that sound as this one begins, and gives the step of the lowest of them, or of one that begins with it. */
  private listen(state: Int32Array, at: number, v: number, begins: number): number {
    const { until, end, last, coming } = this.stands
    const { sounding, voices } = this
    let floor = SILENT
    let count = 0
    for (let u = 0; u < voices; u++) {
      if (u === v) continue
      const other = state[at + u]!
      const sounds = until[other]! > begins
      const step = sounds || end[other]! > begins ? last[other]! : coming[other]!
      if (step < floor) floor = step
      if (sounds && step !== SILENT) sounding[count++] = other
    }
    this.count = count
    return floor
  }
}
