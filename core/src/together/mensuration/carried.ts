/**
 * What was heard of a voice apart in one common measure, heard in the others too. A mensuration by which a voice meets the
 * others only by chance may hide in every common measure that a better one is there; if that is found out in the likeliest
 * alone, the others seem worse than they are.
 */
import type { Page } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import { costsUnder } from "./ear.js"
import type { Common } from "./joint.js"
import { lastsAlike } from "./likeliest.js"
import { sameDivisions } from "./measures.js"
import { alikeCommons, type Tried } from "./sounds.js"
import { LEVEL_NAMES } from "./types.js"
import { APART, SOUND } from "./weights.js"

/** A voice by which all sound better under another mensuration than under its likeliest. */
export interface Gain {
  readonly voice: number
  readonly from: Divisions
  readonly to: Divisions
}

/** The same turn of the voice in other common measures: what it costs by trial of that voice. */
export interface Carried {
  readonly voice: number
  readonly commons: readonly Divisions[]
  readonly costs: readonly (number | undefined)[]
}

/** `done`: common measures in which the gain was heard already. */
export function carriedTo(
  page: Page,
  tried: readonly Tried[],
  commons: readonly Common[],
  done: readonly Divisions[],
  gain: Gain,
  options: ReadOptions,
): Carried[] {
  const others = alikeCommons(tried, commons)
    .filter(one => one.chance >= SOUND.leastChance && !done.includes(one.likeliest.divisions))
    .slice(0, SOUND.most - 1)
  const ways = others.flatMap(({ likeliest, all }) => {
    const turned = turnedIn(tried, likeliest, gain)
    return turned === undefined ? [] : [{ likeliest, all, turned }]
  })
  const cases = ways.flatMap(({ likeliest, turned }) => {
    const own = tried.map(({ trials }, v) => trials[likeliest.trials[v] ?? -1]?.divisions)
    return [own, own.with(gain.voice, tried[gain.voice]!.trials[turned]!.divisions)]
  })
  const costs = costsUnder(page, cases, options)
  const { trials, counting } = tried[gain.voice]!
  return ways.map(({ all, turned }, i) => {
    const cost = bounded(costs[2 * i + 1]! - costs[2 * i]!)
    const isTurned = trials.map(one => lastsAlike(trials[turned]!, one, counting.grouped))
    return { voice: gain.voice, commons: all, costs: isTurned.map(is => (is ? cost : undefined)) }
  })
}

/** Number of the trial that departs from the likeliest of the voice in the same levels as in the gain. */
function turnedIn(tried: readonly Tried[], { trials }: Common, { voice, from, to }: Gain): number | undefined {
  const known = tried[voice]!.trials
  const own = known[trials[voice] ?? -1]
  if (own === undefined) return undefined
  const wanted = { ...own.divisions }
  for (const level of LEVEL_NAMES)
    if (from[level] !== to[level] && own.divisions[level] === from[level]) wanted[level] = to[level]
  const found = known.findIndex(one => sameDivisions(one.divisions, wanted))
  return found < 0 || sameDivisions(own.divisions, wanted) ? undefined : found
}

/** A slip of the pen parts voices too, and another measure may bring them together again by chance. */
export const bounded = (cost: number): number => Math.max(-APART.mostTogether, Math.min(APART.mostTogether, cost))
