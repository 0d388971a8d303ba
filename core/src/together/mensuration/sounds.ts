/**
 * How the voices sound together under the measures that their signs leave open: the last resort (Tractatus practice de
 * musica mensurabili, 1408, last chapter: sing or count it against the other voices), and for plain semibreves, whose
 * groups look alike in perfect and imperfect tempus, often the only one.
 */
import type { Page } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import type { Counting, Trial } from "./candidates.js"
import { costsUnder } from "./ear.js"
import type { Foretold } from "./forward.js"
import type { Common, Sounds } from "./joint.js"
import { sameDivisions } from "./measures.js"
import { LEVEL_NAMES } from "./types.js"
import { SOUND } from "./weights.js"

/** A voice, and what was tried of it. */
export interface Tried {
  readonly counting: Counting
  readonly trials: readonly Trial[]
}

/** Common measures under which no note lasts otherwise. */
export interface Alike {
  readonly key: string
  readonly likeliest: Common
  readonly all: Divisions[]
  chance: number
}

/** What was heard of a page. */
export interface Heard {
  readonly sounds: Sounds
  /** Common measures that were heard. */
  readonly costs: readonly Costed[]
}

/** Undefined where the signs leave nothing open of which the ear could tell anything. */
export function heardUnder(
  page: Page,
  tried: readonly Tried[],
  commons: readonly Common[],
  options: ReadOptions,
): Heard | undefined {
  const keys = keysOf(tried)
  const likely = alike(commons, keys)
    .filter(one => one.chance >= SOUND.leastChance)
    .slice(0, SOUND.most)
  if (likely.length < 2) return undefined
  const divisions = likely.map(({ likeliest }) =>
    tried.map((one, v) => one.trials[likeliest.trials[v] ?? -1]?.divisions),
  )
  const heard = costsUnder(page, divisions, options)
  const heardOnes = likely.map(({ key, likeliest }, i) => ({ key, divisions: likeliest.divisions, cost: heard[i]! }))
  const least = Math.min(...heard)
  const byKey = new Map(heardOnes.map(({ key, cost }) => [key, cost]))
  // those by which no note lasts otherwise sound alike
  const costs = commons.map(one => ({ divisions: one.divisions, cost: byKey.get(keys(one)) }))
  const known = new Map(commons.map((one, i) => [one.divisions, costs[i]!.cost ?? likelyCost(one, heardOnes)]))
  return { sounds: common => rarerBy((known.get(common) ?? least) - least), costs }
}

/** Voices that do not meet in a measure cost much more than it can be unlikelier for it: a slip, or a colour, may part them. */
export const rarerBy = (cost: number): number => Math.min(SOUND.counts, cost)

/** Of a measure that was not heard: as the best of those that are most like it, since nothing is known against it. */
export function likelyCost(
  { divisions }: Pick<Common, "divisions">,
  costs: readonly { readonly divisions: Divisions; readonly cost: number }[],
) {
  const apart = (one: Divisions): number => LEVEL_NAMES.filter(level => one[level] !== divisions[level]).length
  const [nearest] = costs.toSorted((a, b) => apart(a.divisions) - apart(b.divisions) || a.cost - b.cost)
  return nearest?.cost
}

/** A measure, of all voices or of one, and what the search of all cost with it; undefined: it was not heard. */
export interface Costed {
  readonly divisions: Divisions
  readonly cost: number | undefined
}

/** How much better the voices sound with the one measure than with the other; undefined where one was not heard. */
export function heardFor(heard: readonly Costed[], own: Divisions, rival: Divisions): number | undefined {
  const costOf = (wanted: Divisions) => heard.find(one => sameDivisions(one.divisions, wanted))?.cost
  const [cost, other] = [costOf(own), costOf(rival)]
  return cost === undefined || other === undefined ? undefined : other - cost
}

/** Common measures, those under which no note lasts otherwise taken together; the likeliest first. */
export const alikeCommons = (tried: readonly Tried[], commons: readonly Common[]): readonly Alike[] =>
  alike(commons, keysOf(tried))

/** Those that count every note alike taken together; undefined where the voices have none. */
export const likeliestCommon = (tried: readonly Tried[], commons: readonly Common[]): Common | undefined =>
  alike(commons, keysOf(tried))[0]?.likeliest

/** Heaviest first. */
function alike(commons: readonly Common[], keys: (common: Common) => string): Alike[] {
  const heaps = new Map<string, Alike>()
  for (const common of [...commons].sort((a, b) => b.chance - a.chance)) {
    const key = keys(common)
    const known = heaps.get(key)
    if (known === undefined) heaps.set(key, { key, likeliest: common, all: [common.divisions], chance: common.chance })
    else {
      known.chance += common.chance
      known.all.push(common.divisions)
    }
  }
  return [...heaps.values()].sort((a, b) => b.chance - a.chance)
}

/** Common measures with the same key count every note alike; plain semibreves share a breve by its tempus. */
function keysOf(tried: readonly Tried[]): (common: Common) => string {
  const numbers = new Map<Foretold, number>()
  const numberOf = (one: Foretold): number => {
    const known = numbers.get(one) ?? numbers.size
    numbers.set(one, known)
    return known
  }
  return ({ trials }) =>
    trials
      .map((c, v) => {
        if (c === undefined) return ""
        const trial = tried[v]!.trials[c]!
        const counted = trial.foretold.map(numberOf).join(",")
        return tried[v]!.counting.grouped ? `${counted} ${trial.divisions.tempus}` : counted
      })
      .join(";")
}
