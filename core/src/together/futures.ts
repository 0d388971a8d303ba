/** What is still to be paid up to the finals, by voice and by each moment at which they could meet. */
import { MISSED_MEETING } from "../counterpoint/index.js"
import { goalsOf, lengthsOf, toGoal, type Lengths } from "./lengths.js"
import type { Rows } from "./rows.js"
import { HELD } from "./stands.js"

export class Futures {
  private readonly lengths: readonly Lengths[]
  private readonly times: readonly number[]
  /** Numbers for each voice: one for each moment; one where no voice has a final to meet at. */
  readonly goals: number

  constructor(private readonly rows: Rows) {
    this.lengths = rows.graphs.map(lengthsOf)
    this.times = goalsOf(this.lengths)
    this.goals = Math.max(1, this.times.length)
  }

  /** Puts down what voice `v` has still to pay where it stands, by goal. */
  put(costs: Float64Array, at: number, v: number, node: number, end: number): void {
    const own = node - this.rows.firstNode[v]!
    for (let goal = 0; goal < this.goals; goal++)
      costs[at + goal] =
        this.times.length === 0 ? this.lengths[v]!.least[own]! : this.costTo(this.times[goal]!, v, own, end)
  }

  private costTo(goal: number, v: number, node: number, end: number): number {
    if (end >= HELD) return end === HELD + goal ? 0 : MISSED_MEETING
    return toGoal(this.lengths[v]!, node, goal - end)
  }
}
