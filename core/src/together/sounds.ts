/** What a note that begins says against what sounds in the other voices of a hypothesis. */
import type { CounterpointWeights, Strength } from "../counterpoint/index.js"
import type { Backdrop } from "./backdrop.js"
import { END, FIELDS, NODE, ONSET } from "./layer.js"
import { soundAt, soundsOf, type Rows } from "./rows.js"

/** What sounds beside the voices, whatever way they take: what a tone says against it. */
export type Echo = Pick<Backdrop, "cost">

export class Sounds {
  private readonly count: number
  private readonly costs: Float64Array

  constructor(
    private readonly rows: Rows,
    weights: CounterpointWeights,
    private readonly echoes: Echo | undefined,
  ) {
    this.count = rows.graphs.length
    this.costs = soundsOf(weights)
  }

  /** What the note that begins says against what sounds in the other voices. */
  cost(state: Float64Array, at: number, v: number, figure: number, onset: number, origin: number): number {
    const { rows, costs, count } = this
    const { step, byStep, falls, delay, figureAt } = rows
    const own = step[figure]!
    if (Number.isNaN(own)) return 0
    const strength = this.strength(figure, onset - origin)
    const floor = this.floorOf(state, at, v, onset)
    let cost = 0
    for (let u = 0; u < count; u++) {
      const other = at + FIELDS * u
      if (u === v || state[other + END]! <= onset) continue
      const next = figureAt[state[other + NODE]! | 0]!
      const theirs = step[next - 1]!
      if (Number.isNaN(theirs)) continue
      if (delay[next]! > 0 && state[other + END]! - delay[next]! <= onset) continue
      const together = state[other + ONSET] === onset
      const stepwise = byStep[figure] === 1 || (together ? byStep : falls)[next - 1] === 1
      cost += costs[soundAt(Math.min(own, theirs) > floor, together, strength, own - theirs, stepwise)]!
    }
    return cost
  }

  private strength(figure: number, time: number): Strength {
    const { strong, medium } = this.rows
    return divides(strong[figure]!, time) ? 2 : divides(medium[figure]!, time) ? 1 : 0
  }

  /** What the note says against what is sung again; the final as it begins. */
  echoed(v: number, way: number, figure: number, onset: number, origin: number): number {
    const { rows, echoes } = this
    if (echoes === undefined) return 0
    const end = figure === rows.final[v] ? onset + 1 : onset + rows.lasts[way]!
    const tone = rows.graphs[v]!.tones[figure - rows.firstFigure[v]!]!
    return echoes.cost(tone, onset, end, this.strength(figure, onset - origin))
  }

  /** Step of the lowest note of the others that sounds as this one begins, or begins with it. */
  private floorOf(state: Float64Array, at: number, v: number, onset: number): number {
    const { step, figureAt } = this.rows
    let floor = Infinity
    for (let u = 0; u < this.count; u++) {
      if (u === v) continue
      const next = figureAt[state[at + FIELDS * u + NODE]! | 0]!
      const sounding = step[state[at + FIELDS * u + END]! > onset ? next - 1 : next]!
      if (sounding < floor) floor = sounding
    }
    return floor
  }
}

const divides = (part: number, time: number): boolean => time % part === 0
