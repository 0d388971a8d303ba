/** What speaks for each duration of the figures of a block, counted up in rows that are written anew for each. */
import { choiceOf, type Alternative, type Decided } from "./choices.js"
import type { Edge } from "./lattice-parts.js"

/** Ways rarer than this are not kept as rivals of a sign. */
const LEAST_CHANCE = 0.004
const NOTHING: readonly Alternative[] = []

/** One duration after the other; `next` leads to another of the same figure, -1 to none. */
export class Tallies {
  private first = new Int32Array(64)
  private figures = 0
  private count = 0
  private readonly ticks: number[] = []
  private readonly mass: number[] = []
  private readonly best: number[] = []
  private readonly next: number[] = []
  private readonly members: number[] = []
  /** The cheapest way with the duration. */
  private readonly edges: (Edge | undefined)[] = []

  /** A new block of so many figures. */
  begin(figures: number): void {
    if (figures > this.first.length) this.first = new Int32Array(2 * figures)
    this.first.fill(-1, 0, figures)
    this.edges.fill(undefined, 0, this.count)
    this.figures = figures
    this.count = 0
  }

  /** Counts a way on which the figure `at` lasts so long; `cost`: the cheapest reading with it costs more. */
  add(at: number, ticks: number, chance: number, cost: number, edge: Edge, member: number): void {
    let last = -1
    for (let one = this.first[at]!; one >= 0; one = this.next[one]!) {
      last = one
      if (this.ticks[one] !== ticks) continue
      this.mass[one]! += chance
      if (cost < this.best[one]!) this.keep(one, cost, edge, member)
      return
    }
    const one = this.count++
    if (last < 0) this.first[at] = one
    else this.next[last] = one
    this.ticks[one] = ticks
    this.mass[one] = chance
    this.next[one] = -1
    this.keep(one, cost, edge, member)
  }

  private keep(one: number, cost: number, edge: Edge, member: number): void {
    this.best[one] = cost
    this.edges[one] = edge
    this.members[one] = member
  }

  /** Puts doubt and rivals to the decisions that were not sure. */
  judge(decisions: Decided[]): void {
    for (let at = 0; at < this.figures; at++) {
      const first = this.first[at]!
      if (first >= 0 && this.next[first]! >= 0) decisions[at] = this.judged(decisions[at]!, first)
    }
  }

  private judged({ choice, member, ticks }: Decided, first: number): Decided {
    let all = 0
    let right = 0
    for (let one = first; one >= 0; one = this.next[one]!) {
      all += this.mass[one]!
      if (this.ticks[one] === ticks) right = this.mass[one]!
    }
    const wrong = all > 0 ? Math.max(0, 1 - right / all) : 0
    return { choice, member, ticks, wrong, others: this.others(ticks, first) }
  }

  /** The other durations that are not too rare, the cheapest first. */
  private others(ticks: number, first: number): readonly Alternative[] {
    let others: Alternative[] | undefined
    for (let one = first; one >= 0; one = this.next[one]!) {
      if (this.ticks[one] === ticks || this.mass[one]! <= LEAST_CHANCE) continue
      const other = this.alternative(one)
      if (others === undefined) others = [other]
      else insert(others, other)
    }
    return others ?? NOTHING
  }

  private alternative(one: number): Alternative {
    return {
      choice: choiceOf(this.edges[one]!),
      member: this.members[one]!,
      ticks: this.ticks[one]!,
      chance: this.mass[one]!,
      cost: Math.max(0, this.best[one]!),
    }
  }
}

/** Puts it behind those that are not dearer. */
function insert(others: Alternative[], other: Alternative): void {
  let at = others.length
  while (at > 0 && others[at - 1]!.cost > other.cost) at--
  others.splice(at, 0, other)
}
