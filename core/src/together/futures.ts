/** What is still to be paid up to the finals, by voice and by each moment at which they could meet. */
import { MISSED_MEETING } from "../counterpoint/index.js"
import { goalsOf, lengthsOf, toGoal, type Lengths } from "./lengths.js"
import { HELD, mixed } from "./layer.js"
import type { Rows } from "./rows.js"

/** Places and times that are remembered, the last at each. */
const REMEMBERED = 2048

export class Futures {
  private readonly lengths: readonly Lengths[]
  private readonly times: readonly number[]
  private readonly nodes = new Int32Array(REMEMBERED).fill(-1)
  private readonly ends = new Float64Array(REMEMBERED)
  private readonly costs: Float64Array
  /** Numbers for each voice: one for each moment; one where no voice has a final to meet at. */
  readonly goals: number

  constructor(private readonly rows: Rows) {
    this.lengths = rows.graphs.map(lengthsOf)
    this.times = goalsOf(this.lengths)
    this.goals = Math.max(1, this.times.length)
    this.costs = new Float64Array(REMEMBERED * this.goals)
  }

  /** Puts down what voice `v` has still to pay where it stands. */
  put(state: Float64Array, at: number, v: number, node: number, end: number): void {
    const { goals, costs } = this
    const place = mixed(node, end) & (REMEMBERED - 1)
    if (this.nodes[place] !== node || this.ends[place] !== end) this.remember(place, v, node, end)
    for (let goal = 0; goal < goals; goal++) state[at + v * goals + goal] = costs[place * goals + goal]!
  }

  private remember(place: number, v: number, node: number, end: number): void {
    this.nodes[place] = node
    this.ends[place] = end
    const own = node - this.rows.firstNode[v]!
    for (let goal = 0; goal < this.goals; goal++)
      this.costs[place * this.goals + goal] =
        this.times.length === 0 ? this.lengths[v]!.least[own]! : this.costTo(this.times[goal]!, v, own, end)
  }

  private costTo(goal: number, v: number, node: number, end: number): number {
    if (end >= HELD) return end === HELD + goal ? 0 : MISSED_MEETING
    return toGoal(this.lengths[v]!, node, goal - end)
  }

  /** The least that all voices together have still to pay, of what was put down for them. */
  least(state: Float64Array, at: number): number {
    const { goals } = this
    const voices = this.lengths.length
    let least = Infinity
    for (let goal = 0; goal < goals; goal++) {
      let sum = 0
      for (let v = 0; v < voices && sum < least; v++) sum += state[at + v * goals + goal]!
      if (sum < least) least = sum
    }
    return least
  }
}
