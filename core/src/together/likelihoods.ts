/** From the search to chances: how likely each duration of each note is, all ways through all voices taken together. */
import type { Trail } from "./hypothesis.js"
import type { Window } from "./search.js"
import type { VoiceGraph, Way } from "./voice-graph.js"

/** What speaks for one duration of a note, with the cheapest way to it. */
export interface Likelihood {
  readonly way: Way
  chance: number
  /** What the cheapest reading of all voices with it costs beyond the chosen one. */
  cost: number
}

const LEAST_COUNTED = 1e-5

/** By voice and figure: the durations that are possible, likeliest ways kept; undefined where there is only one. */
export class Likelihoods {
  readonly found: (Likelihood[] | undefined)[][]

  constructor(graphs: readonly VoiceGraph[]) {
    this.found = graphs.map(({ figures }): (Likelihood[] | undefined)[] =>
      Array.from({ length: figures }, () => undefined),
    )
  }

  /** Takes up what one window of the search says. */
  add(window: Window): void {
    lookBack(window)
    const { trail, last, end } = window
    const { cost, after, weight, weightAfter } = trail
    const best = cost[end]! + after[end]!
    for (let layer = 1; layer <= last; layer++) {
      const [from, to] = [trail.firstOf(layer), trail.endOf(layer)]
      let all = 0
      for (let one = from; one < to; one++)
        if (after[one]! < Infinity) all += weight[one]! * weightAfter[one]! * Math.exp(best - cost[one]! - after[one]!)
      for (let one = from; one < to; one++) if (after[one]! < Infinity) this.addSteps(one, window, all)
    }
  }

  private addSteps(to: number, { trail, ways, end }: Window, all: number): void {
    const { cost, after, weight, weightAfter, from, stepCost } = trail
    for (let step = trail.firstStep[to]!; step < trail.firstStep[to + 1]!; step++) {
      const before = from[step]!
      const extra = cost[before]! + stepCost[step]! + after[to]! - cost[end]! - after[end]!
      const chance = (weight[before]! * weightAfter[to]! * Math.exp(-extra)) / all
      if (!(chance > LEAST_COUNTED)) continue
      const way = ways[trail.way[step]!]!
      tally((this.found[trail.voice[step]!]![way.figure] ??= []), way, chance, Math.max(0, extra))
    }
  }
}

/** Cheapest ways on, and the chances of all, from the end backward. */
function lookBack({ trail, last, after: atEnd }: Window): void {
  const { after, weightAfter, from, stepCost, firstStep } = trail
  after.fill(Infinity, trail.firstOf(0), trail.firstOf(last))
  weightAfter.fill(0, trail.firstOf(0), trail.firstOf(last))
  for (let one = trail.firstOf(last); one < trail.endOf(last); one++) {
    after[one] = atEnd(one)
    weightAfter[one] = after[one]! < Infinity ? 1 : 0
  }
  for (let layer = last; layer > 0; layer--) {
    const [first, behind] = [trail.firstOf(layer), trail.endOf(layer)]
    for (let to = first; to < behind; to++)
      for (let step = firstStep[to]!; step < firstStep[to + 1]!; step++) {
        const cost = stepCost[step]! + after[to]!
        if (cost < after[from[step]!]!) after[from[step]!] = cost
      }
    for (let to = first; to < behind; to++) if (after[to]! < Infinity) spread(to, trail)
  }
}

function spread(to: number, { after, weightAfter, from, stepCost, firstStep }: Trail): void {
  for (let step = firstStep[to]!; step < firstStep[to + 1]!; step++) {
    const before = from[step]!
    weightAfter[before]! += weightAfter[to]! * Math.exp(after[before]! - stepCost[step]! - after[to]!)
  }
}

function tally(list: Likelihood[], way: Way, chance: number, cost: number): void {
  for (const known of list) {
    if (known.way.lasts !== way.lasts) continue
    known.chance += chance
    if (cost < known.cost) {
      known.cost = cost
      ;(known as { way: Way }).way = way
    }
    return
  }
  list.push({ way, chance, cost })
}
