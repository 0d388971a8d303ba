/** Whose turn it is in the search, and what it costs that voices do not stand together where they should. */
import { MISSED_MEETING } from "../counterpoint/index.js"
import type { Rows } from "./rows.js"
import type { Stands } from "./stands.js"

/** Places where all voices stand together, by voice the index of the figure that begins there. */
export type Meeting = readonly number[]

/** Asked of a hypothesis: the stands of all voices, in `state` from `at` on. */
export class Turns {
  private readonly count: number

  constructor(
    private readonly rows: Rows,
    private readonly stands: Stands,
    private readonly meetings: readonly Meeting[],
  ) {
    this.count = rows.graphs.length
  }

  /** The voice whose last note ends first; one that stands at a meeting waits for the others. */
  next(state: Int32Array, at: number, waiting = this.meetings.length > 0): number {
    const { turn } = this.stands
    let next = -1
    let first = Infinity
    for (let v = 0; v < this.count; v++) {
      const end = turn[state[at + v]!]!
      if (end >= first || (waiting && this.waits(state, v, at))) continue
      next = v
      first = end
    }
    // where they wait for each other, nobody waits
    return next < 0 && waiting ? this.next(state, at, false) : next
  }

  private waits(state: Int32Array, v: number, at: number): boolean {
    const figure = this.ownFigure(state, at, v)
    return this.meetings.some(
      meeting => meeting[v] === figure && meeting.some((wanted, u) => this.ownFigure(state, at, u) < wanted),
    )
  }

  /** Counted through its own voice. */
  private ownFigure(state: Int32Array, at: number, v: number): number {
    return this.stands.next[state[at + v]!]! - this.rows.firstFigure[v]!
  }

  /** What it costs that the voices do not stand together where the next figure of this one is the last to arrive. */
  missed(state: Int32Array, at: number, v: number): number {
    const cost = this.meetings.length > 0 ? this.missedMeetings(state, at, v) : 0
    const { rows, stands, count } = this
    if (stands.next[state[at + v]!] !== rows.final[v]) return cost
    for (let u = 0; u < count; u++) if (u !== v && stands.next[state[at + u]!]! < this.behind(u)) return cost
    const finals: number[] = []
    for (let u = 0; u < count; u++)
      if (rows.final[u]! >= 0) finals.push((u === v ? stands.end : stands.onset)[state[at + u]!]!)
    return cost + MISSED_MEETING * unlike(finals)
  }

  /** The figure behind the final of a voice, or behind its last where it has none. */
  private behind(v: number): number {
    const { rows } = this
    return rows.final[v]! < 0 ? rows.endFigure[v]! : rows.final[v]! + 1
  }

  private missedMeetings(state: Int32Array, at: number, v: number): number {
    const figure = this.ownFigure(state, at, v)
    let cost = 0
    for (const meeting of this.meetings)
      if (meeting[v] === figure && meeting.every((wanted, u) => this.ownFigure(state, at, u) === wanted))
        cost += MISSED_MEETING * unlike(meeting.map((_, u) => this.stands.end[state[at + u]!]!))
    return cost
  }
}

/** How many of them are not where most are. */
function unlike(times: readonly number[]): number {
  let most = 0
  for (const time of times) most = Math.max(most, times.filter(other => other === time).length)
  return times.length - most
}
