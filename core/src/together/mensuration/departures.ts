/**
 * One voice under another measure, the others as they are found. A common measure is heard as a whole (`sounds.ts`); whether
 * a voice departs from it is heard voice by voice, for by custom alone one that departs would hardly ever be believed.
 */
import type { Page } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import type { Trial } from "./candidates.js"
import { costsUnder } from "./ear.js"
import type { Common, Joint } from "./joint.js"
import { lastsAlike, likeliestOf } from "./likeliest.js"
import { likeliestCommon, type Costed, type Tried } from "./sounds.js"
import { tokensOf } from "./turns.js"
import { APART, TURN } from "./weights.js"

export interface HeardApart {
  /** Common measures in which the others are as they were when a voice was heard apart. */
  readonly commons: readonly Divisions[]
  /** By voice and trial, against the likeliest of the voice. */
  readonly trials: readonly (readonly Costed[])[]
}

/** What was heard of a voice holds where the others are as they were then. */
export const departsFrom =
  ({ commons, trials }: HeardApart, voice: number) =>
  (trial: number, common: Divisions): number =>
    commons.includes(common) ? (trials[voice]![trial]!.cost ?? 0) : 0

/** Undefined where no voice has a measure beside its likeliest by which a note of it would last otherwise. */
export function heardApart(
  page: Page,
  tried: readonly Tried[],
  { chances, commons }: Joint,
  options: ReadOptions,
): HeardApart | undefined {
  const likeliest = likeliestCommon(tried, commons)
  const best = chances.map((row, v) => likeliest?.trials[v] ?? likeliestOf(tried[v]!, row) ?? -1)
  const all = departures(tried, chances, best).slice(0, isLong(tried) ? APART.mostOfLong : APART.most)
  if (all.length === 0) return undefined
  const divisions = tried.map(({ trials }, v) => trials[best[v]!]?.divisions)
  const cases = all.map(({ voice, trial }) => divisions.with(voice, tried[voice]!.trials[trial]!.divisions))
  const [own, ...costs] = costsUnder(page, [divisions, ...cases], options)
  const heard = all.map((one, i) => ({ ...one, cost: bounded(costs[i]! - own!) }))
  return {
    commons: commons.filter(one => isAs(tried, best, one)).map(one => one.divisions),
    trials: tried.map((one, v) =>
      heardOf(one, [{ trial: best[v]!, cost: 0 }, ...heard.filter(({ voice }) => voice === v)]),
    ),
  }
}

function heardOf(
  { counting, trials }: Tried,
  heard: readonly { readonly trial: number; readonly cost: number }[],
): Costed[] {
  const isSame = (a: number, b: Trial): boolean => trials[a] !== undefined && lastsAlike(trials[a], b, counting.grouped)
  return trials.map(one => ({ divisions: one.divisions, cost: heard.find(({ trial }) => isSame(trial, one))?.cost }))
}

/** In such a piece every voice would rather be as it is in the best. */
const isAs = (tried: readonly Tried[], best: readonly number[], common: Common): boolean =>
  tried.every(({ counting, trials }, v) => {
    const [own, other] = [trials[best[v]!], trials[common.trials[v] ?? -1]]
    return own === undefined || other === undefined || lastsAlike(own, other, counting.grouped)
  })

/** A slip of the pen parts voices too, and another measure may bring them together again by chance. */
const bounded = (cost: number): number => Math.max(-APART.mostTogether, Math.min(APART.mostTogether, cost))

/** A voice under a trial that is not its likeliest. */
interface Departure {
  readonly voice: number
  readonly trial: number
  readonly chance: number
}

/** Likeliest first; of those that count every note alike only the likeliest. */
function departures(tried: readonly Tried[], chances: Joint["chances"], best: readonly number[]): Departure[] {
  const all = tried.flatMap(({ counting, trials }, voice) => {
    if (counting.byTempus) return []
    const row = chances[voice]!
    const seen = trials[best[voice]!] === undefined ? [] : [trials[best[voice]!]!]
    const found: Departure[] = []
    for (const trial of trials.map((_, c) => c).sort((a, b) => row[b]! - row[a]!)) {
      if (row[trial]! < APART.leastChance) break
      if (seen.some(one => lastsAlike(one, trials[trial]!, counting.grouped))) continue
      seen.push(trials[trial]!)
      found.push({ voice, trial, chance: row[trial]! })
    }
    return found
  })
  return all.sort((a, b) => b.chance - a.chance)
}

/** Each search of a long piece takes long. */
function isLong(tried: readonly Tried[]): boolean {
  const figures = tried.reduce((sum, { counting }) => sum + (tokensOf(counting)?.length ?? 0), 0)
  return figures * tried.length >= TURN.long
}
