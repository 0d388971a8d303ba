/**
 * What would mend two slips, where no one change explains the page as well: two of a voice that make up for each other, or a change
 * that takes up both while each of them has a repair of its own.
 */
import { allMeet } from "../hearing.js"
import type { Candidate } from "./candidates.js"
import { pairsOf } from "./pairs.js"
import { evidenceOf } from "./rank.js"
import type { Stage } from "./stage.js"
import { isBeside, isSame, PLACES, SHOWN, tryOne, type Tried } from "./trial.js"
import type { Progress } from "./types.js"
import { LEAST_EVIDENCE, LEAST_GAIN, MEETS_AGAIN, OTHER_PLACE_WITHIN, PAIR_GAINS } from "./weights.js"

/** A step: a page with the changes that were tried in it, the likeliest first. */
export interface Seen {
  readonly stage: Stage
  readonly tried: readonly Tried[]
}

/** The same, where two slips were supposed: what is found after the first of `tried`, and whether it is made only with a second. */
export interface SeenAhead extends Seen {
  readonly next?: Seen
  readonly half: boolean
}

/** Looks at the page with a change made in thought. */
export type Look = (one: Tried) => Generator<Progress, Seen>

/** What was seen, with what would mend two slips put first where that is likelier. */
export function* forTwo(seen: Seen, look: Look): Generator<Progress, SeenAhead> {
  const { stage, tried } = seen
  const firsts = firstsOfTwo(stage, tried[0])
  if (firsts.length > 0) return { stage, tried: before(tried, firsts), half: true }
  return { ...(yield* oneAfterOther(seen, look)), half: false }
}

const before = (tried: readonly Tried[], firsts: readonly Tried[]): Tried[] =>
  [...firsts, ...tried.filter(one => !firsts.some(first => isSame(one, first)))].slice(0, SHOWN)

/**
 * The first of two changes of a voice that only together bring the voices together, where they are likelier than any one change;
 * the second is found at the next step. Its odds are those of both. Where the first may as well stand elsewhere, each place once.
 */
function firstsOfTwo(stage: Stage, single: Tried | undefined): Tried[] {
  const pairs = pairsOf(stage)
    .flatMap(one => tryOne(stage, one))
    .filter(one => allMeet(one.together) && evidenceOf(one.terms) >= 2 * LEAST_EVIDENCE)
    .sort((a, b) => b.gain - a.gain)
  const least = (single ? single.gain : LEAST_GAIN) + PAIR_GAINS
  const top = pairs[0]?.gain ?? -Infinity
  if (top < least) return []
  const best: Tried[] = []
  for (const one of pairs.filter(({ gain }) => gain >= least && gain > top - OTHER_PLACE_WITHIN))
    if (best.length < PLACES && best.every(other => !isBeside(firstOf(other), firstOf(one)))) best.push(one)
  const odds = best.reduce((sum, { gain }) => sum + Math.exp(gain - top), Math.exp((single?.gain ?? 0) - top))
  return best.flatMap(pair => {
    const [first] = tryOne(stage, { ...pair, candidate: firstOf(pair) })
    return first ? [{ ...first, gain: pair.gain, score: rounded(Math.exp(pair.gain - top) / odds) }] : []
  })
}

/** Of a pair the change that is made first, by itself. */
function firstOf({ candidate: { also: _, until, ...first } }: Tried): Candidate {
  return { ...first, to: until ?? first.to }
}

const rounded = (chance: number): number => Math.round(1000 * chance) / 1000

/**
 * One change may take up two slips in different places, better than either repair by itself. So it is asked of the best changes of
 * other places too what would be found after them: where one and what comes after it are together likelier than the best and what
 * comes after that, it goes before it, with the odds of both.
 */
export function* oneAfterOther(
  seen: Seen,
  look: Look,
): Generator<Progress, Pick<SeenAhead, "stage" | "tried" | "next">> {
  const { stage, tried } = seen
  const [best] = tried
  const others = best === undefined ? [] : otherPlaces(best, tried)
  if (best === undefined || others.length === 0) return seen
  const next = yield* look(best)
  const least = totalOf(best, next) + (next.tried.length > 0 ? 0 : PAIR_GAINS)
  let found: { first: Tried; next: Seen; total: number } | undefined
  for (const first of others) {
    const then = yield* look(first)
    const total = then.tried.length > 0 ? totalOf(first, then) : -Infinity
    if (total > Math.max(least, found?.total ?? -Infinity)) found = { first, next: then, total }
  }
  if (found === undefined) return { stage, tried, next }
  const odds = Math.exp(least - found.total)
  const first = { ...found.first, gain: found.total, score: rounded(1 / (1 + odds)) }
  return { stage, tried: before(tried, [first]), next: found.next }
}

/** That all voices meet counts once. */
const totalOf = (first: Tried, { tried: [second] }: Seen): number =>
  second === undefined ? first.gain : first.gain + second.gain - (first.terms.meets ? MEETS_AGAIN : 0)

/** The best of each other place that is not much less likely; the voices may yet be brought together by what comes after it. */
function otherPlaces(best: Tried, tried: readonly Tried[]): Tried[] {
  const places = [best]
  const least = best.gain - OTHER_PLACE_WITHIN - (best.terms.meets ? MEETS_AGAIN : 0)
  for (const one of tried) {
    if (places.length === PLACES) break
    if (one.gain + (one.terms.meets ? -MEETS_AGAIN : 0) < least) continue
    if (places.every(other => !isBeside(other.candidate, one.candidate))) places.push(one)
  }
  return places.slice(1)
}
