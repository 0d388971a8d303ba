/** Whose turn it is in the search, and what it costs that voices do not stand together where they should. */
import { MISSED_MEETING } from "../counterpoint/index.js"
import { END, FIELDS, NODE, ONSET } from "./layer.js"
import type { Rows } from "./rows.js"

/** Places where all voices stand together, by voice the index of the figure that begins there. */
export type Meeting = readonly number[]

/** Asked of a hypothesis: the numbers of `state` from `at` on. */
export class Turns {
  private readonly count: number

  constructor(
    private readonly rows: Rows,
    private readonly meetings: readonly Meeting[],
  ) {
    this.count = rows.graphs.length
  }

  private figureOf(state: Float64Array, at: number, v: number): number {
    return this.rows.figureAt[state[at + FIELDS * v + NODE]! | 0]!
  }

  /** The voice whose last note ends first; one that stands at a meeting waits for the others. */
  next(state: Float64Array, at: number, waiting = this.meetings.length > 0): number {
    const { rows } = this
    let next = -1
    let first = Infinity
    for (let v = 0; v < this.count; v++) {
      const end = state[at + FIELDS * v + END]!
      if (end >= first || this.figureOf(state, at, v) === rows.endFigure[v]) continue
      if (waiting && this.waits(state, v, at)) continue
      next = v
      first = end
    }
    // where they wait for each other, nobody waits
    return next < 0 ? this.next(state, at, false) : next
  }

  private waits(state: Float64Array, v: number, at: number): boolean {
    const figure = this.ownFigure(state, at, v)
    return this.meetings.some(
      meeting => meeting[v] === figure && meeting.some((wanted, u) => this.ownFigure(state, at, u) < wanted),
    )
  }

  /** Counted through its own voice. */
  private ownFigure(state: Float64Array, at: number, v: number): number {
    return this.figureOf(state, at, v) - this.rows.firstFigure[v]!
  }

  /** What it costs that the voices do not stand together where this figure is the last to arrive. */
  missed(state: Float64Array, at: number, v: number, figure: number): number {
    const cost = this.meetings.length > 0 ? this.missedMeetings(state, at, v) : 0
    const { rows, count } = this
    if (figure !== rows.final[v]) return cost
    for (let u = 0; u < count; u++) if (u !== v && this.figureOf(state, at, u) < rows.endFigure[u]!) return cost
    const finals: number[] = []
    for (let u = 0; u < count; u++)
      if (rows.final[u]! >= 0) finals.push(state[at + FIELDS * u + (u === v ? END : ONSET)]!)
    return cost + MISSED_MEETING * unlike(finals)
  }

  private missedMeetings(state: Float64Array, at: number, v: number): number {
    const figure = this.ownFigure(state, at, v)
    let cost = 0
    for (const meeting of this.meetings)
      if (meeting[v] === figure && meeting.every((wanted, u) => this.ownFigure(state, at, u) === wanted))
        cost += MISSED_MEETING * unlike(meeting.map((_, u) => state[at + FIELDS * u + END]!))
    return cost
  }
}

/** How many of them are not where most are. */
function unlike(times: readonly number[]): number {
  let most = 0
  for (const time of times) most = Math.max(most, times.filter(other => other === time).length)
  return times.length - most
}
