/** Where a voice may turn to another tempus or prolation that no sign states, and how much better it is foretold so. */
import type { SignId } from "../../base/index.js"
import type { Divisions } from "../../practices/index.js"
import { measureFor, type Counting, type Trial } from "./candidates.js"
import { foretell, sharesOf } from "./forward.js"
import { sameDivisions } from "./measures.js"
import type { Token } from "./tokens.js"
import { CHANGE, TURN } from "./weights.js"

/** A voice that turns from one mensuration to another at a token of its first section. */
export interface Turn {
  readonly before: Divisions
  readonly after: Divisions
  readonly at: number
  /** The note or rest there, and its number in the voice. */
  readonly from: SignId
  readonly place: number
  /** How much better than under the mensuration of the whole (natural logarithm of odds, not brought down). */
  readonly gain: number
}

/** A tempus and prolation, and another after it; the modus stays. */
export interface Pair {
  readonly before: Pick<Divisions, "tempus" | "prolatio">
  readonly after: Pick<Divisions, "tempus" | "prolatio">
}

/** The tokens of a voice in which a turn is looked for; undefined where its signs state anything. */
export function tokensOf({ sections, grouped, byTempus }: Counting): readonly Token[] | undefined {
  const [section, ...more] = sections
  if (section === undefined || more.length > 0 || section.stated.size > 0 || grouped || byTempus) return undefined
  return section.tokens
}

/** Places for a turn, likeliest first; none where no turn foretells the voice better. */
export function turnsOf(counting: Counting, trials: readonly Trial[], whole: Divisions): Turn[] {
  const tokens = tokensOf(counting)
  if (tokens === undefined || tokens.length < 2 * CHANGE.leastTokens) return []
  const rivals = trials.filter(
    ({ divisions: { modusMaior, modusMinor } }) => modusMaior === whole.modusMaior && modusMinor === whole.modusMinor,
  )
  const base = rivals.find(one => sameDivisions(one.divisions, whole))?.foretold[0]?.total
  if (base === undefined) return []
  const sums = rivals.map(one => sumsOf(one.foretold[0]!.steps))
  const all = rivals.flatMap((before, a) =>
    rivals.flatMap((after, b) => {
      if (before.foretold[0] === after.foretold[0]) return []
      const near = bestPlace(sums[a]!, sums[b]!)
      if (near.gain - base < TURN.glimpsed) return []
      return turnsIn(tokens, before, after, [near.at - TURN.around, near.at + TURN.around], base)
    }),
  )
  return all.filter(one => one.gain >= TURN.least).sort((x, y) => y.gain - x.gain)
}

/** The turn at one token; undefined where none may be. */
export function turnAt(
  counting: Counting,
  trials: readonly Trial[],
  whole: Divisions,
  { before, after }: Pair,
  at: number,
): Turn | undefined {
  const tokens = tokensOf(counting)
  const find = (levels: Partial<Divisions>): Trial | undefined =>
    trials.find(({ divisions }) => sameDivisions(divisions, { ...whole, ...levels }))
  const [own, first, second] = [find({}), find(before), find(after)]
  if (tokens === undefined || !own || !first || !second) return undefined
  return turnsIn(tokens, first, second, [at, at], own.foretold[0]!.total)[0]
}

/** By token: what all before it come to; the last is the whole. */
function sumsOf(steps: Float64Array): Float64Array {
  const sums = new Float64Array(steps.length + 1)
  for (let t = 0; t < steps.length; t++) sums[t + 1] = sums[t]! + steps[t]!
  return sums
}

/** Where one who counts on in both mensurations all the time would rather change from the one to the other. */
function bestPlace(before: Float64Array, after: Float64Array): { readonly at: number; readonly gain: number } {
  const length = before.length - 1
  let best = { at: CHANGE.leastTokens, gain: -Infinity }
  for (let at = CHANGE.leastTokens; at <= length - CHANGE.leastTokens; at++) {
    const gain = before[at]! + after[length]! - after[at]!
    if (gain > best.gain) best = { at, gain }
  }
  return best
}

/** Turns at some of the tokens from one to another, what follows being counted anew from there on. */
function turnsIn(
  tokens: readonly Token[],
  before: Trial,
  after: Trial,
  [least, most]: readonly [number, number],
  base: number,
): Turn[] {
  const shares = sharesOf(tokens)
  const from = Math.max(CHANGE.leastTokens, least)
  const to = Math.min(tokens.length - CHANGE.leastTokens, most)
  // far enough behind it, all count alike again
  const end = Math.min(tokens.length, to + TURN.ahead)
  const measureBefore = measureFor(tokens, before.divisions)
  const head = foretell(tokens.slice(0, to + 1), measureBefore, shares, undefined, { openings: true })
  const heads = sumsOf(head.steps)
  const measure = measureFor(tokens, after.divisions)
  const far = after.foretold[0]!.steps.subarray(end).reduce((sum, one) => sum + one, -base)
  const turns: Turn[] = []
  for (let at = from; at <= to; at++) {
    const { id, number, joined } = tokens[at]!
    if (joined) continue
    const behind = foretell(tokens.slice(at, end), measure, shares, undefined).total
    const gain = heads[at]! + head.openings[at]! + behind + far
    turns.push({ before: before.divisions, after: after.divisions, at, from: id, place: number, gain })
  }
  return turns
}
