/** From the search to chances: how likely each duration of each note is, all ways through all voices taken together. */
import type { Hypothesis } from "./hypothesis.js"
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
    const { layers, end } = window
    for (let n = 1; n < layers.length; n++) {
      let all = 0
      for (const to of layers[n]!)
        all += to.weight * to.weightAfter * Math.exp(end.cost + end.after - to.cost - to.after)
      for (const to of layers[n]!) if (to.after < Infinity) this.addSteps(to, window, all)
    }
  }

  private addSteps(to: Hypothesis, { end }: Window, all: number): void {
    for (const { from, way, voice, cost } of to.steps) {
      const extra = from.cost + cost + to.after - end.cost - end.after
      const chance = (from.weight * to.weightAfter * Math.exp(-extra)) / all
      if (chance > LEAST_COUNTED) tally((this.found[voice]![way.figure] ??= []), way, chance, Math.max(0, extra))
    }
  }
}

/** Cheapest ways on, and the chances of all, from the end backward. */
function lookBack({ layers }: Window): void {
  for (const end of layers.at(-1)!) end.weightAfter = 1
  for (let n = layers.length - 1; n > 0; n--) {
    for (const to of layers[n]!)
      for (const { from, cost } of to.steps) if (cost + to.after < from.after) from.after = cost + to.after
    for (const to of layers[n]!) if (to.after < Infinity) spread(to)
  }
}

function spread(to: Hypothesis): void {
  for (const { from, cost } of to.steps) from.weightAfter += to.weightAfter * Math.exp(from.after - cost - to.after)
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
