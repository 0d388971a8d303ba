/**
 * The series that tells a voice most shortly, if any does.
 *
 * The measure is the length of a description, in bits. Sign by sign, a voice costs its literal bits (literal.ts). With a
 * series it costs: the series told once; for each statement next to nothing where it agrees and the prices of follow.ts
 * where it differs; literal bits for what stands before and behind; and the choice of length and beginning. What is
 * saved is the `gain`. A longer series has fewer differences but costs more to tell, a shorter one the other way about,
 * so the length is chosen by the same number. A voice without a plan rarely saves anything, and saving g bits by
 * chance has odds of about 2^-g if the literal bits are fair; they are not quite, so doubt counts a part of them.
 */
import type { Statement } from "./types.js"
import { follow, type Step, type Template, type Way } from "./follow.js"
import { lags, literalBits } from "./literal.js"
import { mismatch, NEARLY, type Token, type View } from "./views.js"

export interface Found {
  readonly view: View
  readonly template: Template
  readonly from: number
  readonly way: Way
  readonly gain: number
}

/** Shortest series: an ordo of two notes and a rest; three pitches. */
const SHORTEST = 3
/** A plan carries the voice: less of it than this is a passage that comes again. */
const COVERS = 0.5
/** Gains under this are no finding. */
const LEAST_GAIN = 6
/** Candidates that are looked at again with a series agreed on by all statements. */
const FINALISTS = 3
const SHIFTS = 3

/** The best series among tokens `from` to `to`; undefined where none saves enough. */
export function bestSeries(view: View, [from, to]: readonly [number, number]): Found | undefined {
  const literal = literalBits(view.tokens)
  const tries = lags(view, from, to, SHORTEST)
    .flatMap(({ period, from: later }) =>
      later > from
        ? [
            { period, start: from },
            { period, start: later },
          ]
        : [{ period, start: from }],
    )
    .map(({ period, start }) => found(view, literal, templateAt(view, literal, start, period), [start, to], from))
    .toSorted(byGain)
    .slice(0, FINALISTS)
    .map(one => agreed(one, literal, to, from))
  const first = tries.toSorted(byGain)[0]
  // a series of which hardly anything comes again has no beginning that could be hidden
  if (!first || !comesAgain(first)) return undefined
  const best = [first, ...turned(first, literal, to, from)].toSorted(byGain)[0]!
  if (best.gain < LEAST_GAIN || isMerePattern(best) || !comesAgain(best)) return undefined
  return best.way.end - best.from >= COVERS * (to - from) ? best : undefined
}

/**
 * A series of so many tokens from `start` on, where another row of the voice has told so already: length and beginning are not
 * told again. Undefined where even so it saves too little.
 */
export function seriesBeside(view: View, start: number, period: number): Found | undefined {
  const to = view.tokens.length
  if (period < SHORTEST || start + period >= to) return undefined
  const literal = literalBits(view.tokens)
  const first = found(view, literal, templateAt(view, literal, start, period), [start, to], start, 0)
  const best = agreed(first, literal, to, start, 0)
  const isOne = best.gain >= LEAST_GAIN && !isMerePattern(best) && comesAgain(best)
  return isOne && best.way.end - start >= COVERS * to ? best : undefined
}

/** Behind the first statement stand signs that are told by it. */
function comesAgain({ template, way }: Found): boolean {
  let twice = 0
  for (const { at, token } of way.steps) if (at >= template.tokens.length && token >= 0) twice++
  return twice >= SHORTEST
}

const byGain = (a: Found, b: Found) => b.gain - a.gain

function found(
  view: View,
  literal: Float64Array,
  template: Template,
  [start, to]: readonly [number, number],
  from: number,
  choice = Math.log2(to - from) * (start > from ? 2 : 1),
): Found {
  const shifts = shiftsAt(view, start, to, template.tokens.length)
  const way = follow(view, template, literal, [start, to], shifts)
  let plain = 0
  for (let at = start; at < to; at++) plain += literal[at]!
  return { view, template, from: start, way, gain: plain - template.bits - way.bits - choice }
}

function templateAt(view: View, literal: Float64Array, start: number, period: number): Template {
  let bits = 0
  for (let at = start; at < start + period; at++) bits += literal[at]!
  return { tokens: view.tokens.slice(start, start + period), bits, isFirst: true }
}

/** No shift, and the commonest ones from one statement to the next, also two on top of each other. */
function shiftsAt(view: View, start: number, to: number, period: number): number[] {
  const counts = new Map<number, number>()
  for (let at = start + period; at < to; at++) {
    const shift = Math.round((view.tokens[at]!.value - view.tokens[at - period]!.value) * 1e9) / 1e9
    if (Math.abs(shift) > NEARLY && view.allows(shift)) counts.set(shift, (counts.get(shift) ?? 0) + 1)
  }
  const common = [...counts]
    .filter(([, count]) => count >= SHORTEST)
    .toSorted((a, b) => b[1] - a[1])
    .slice(0, SHIFTS)
    .map(([shift]) => shift)
  const sums = common.flatMap((a, at) => common.slice(at).map(b => a + b))
  const all = [0, ...common, ...sums.filter(view.allows)]
  return all.filter((one, at) => all.findIndex(other => Math.abs(other - one) < NEARLY) === at)
}

/** The same with the series that most statements have: the first statement may be the one with the slip. */
function agreed(one: Found, literal: Float64Array, to: number, from: number, choice?: number): Found {
  const template = consensus(one, literal)
  if (!template) return one
  const again = found(one.view, literal, template, [one.from, to], from, choice)
  return again.gain > one.gain ? again : one
}

/** Fewest signs of a talea without a rest. */
const LEAST_UNBROKEN = 5

/** Long, breve, long, breve without end is how a voice goes, not a talea; with a rest at its end it is an ordo. */
function isMerePattern({ view, template: { tokens } }: Found): boolean {
  if (view.of === "color" || tokens.some(token => !token.note)) return false
  const period = tokens.findIndex(
    (_, by) =>
      by > 0 && tokens.every((token, at) => mismatch(view.by, token, tokens[(at + by) % tokens.length]!, 0) === 0),
  )
  return (period < 0 ? tokens.length : period) < LEAST_UNBROKEN
}

/** The same with the series begun a sign or two later or earlier: a slip in the first statement hides its beginning. */
function turned(one: Found, literal: Float64Array, to: number, from: number): Found[] {
  const { tokens, bits } = one.template
  return TURNS.filter(turn => Math.abs(turn) < tokens.length).map(turn => {
    const template = { bits, tokens: [...tokens.slice(turn), ...tokens.slice(0, turn)] }
    return found(one.view, literal, template, [one.from, to], from)
  })
}
const TURNS = [-2, -1, 1, 2]

/** What most statements have at each place, as the first would write it; undefined for fewer than three statements. */
function consensus({ view, template, way }: Found, literal: Float64Array): Template | undefined {
  const period = template.tokens.length
  const votes = votesAt(way.steps, period)
  const statements = Math.floor((way.steps.at(-1)?.at ?? 0) / period) + 1
  if (statements < 3) return undefined
  const chosen: { token: Token; bits: number }[] = []
  for (const { here, before, missing } of votes) {
    for (const steps of [before, here]) {
      const group = largestGroup(view, steps)
      if (group.length === 0 || (steps === before && group.length * 2 <= statements)) continue
      if (steps === here && missing * 2 > statements) continue
      const [first] = group as [Step, ...Step[]]
      const token = view.tokens[first.token]!
      chosen.push({ token: { ...token, value: token.value - first.shift }, bits: literal[first.token]! })
    }
  }
  if (chosen.length < SHORTEST) return undefined
  return { tokens: chosen.map(one => one.token), bits: chosen.reduce((total, one) => total + one.bits, 0) }
}

interface Votes {
  readonly here: Step[]
  readonly before: Step[]
  missing: number
}

function votesAt(steps: readonly Step[], period: number): Votes[] {
  const votes: Votes[] = Array.from({ length: period }, () => ({ here: [], before: [], missing: 0 }))
  for (const step of steps) {
    const place = votes[step.at % period]!
    if (step.extra) place.before.push(step)
    else if (step.token < 0) place.missing++
    else place.here.push(step)
  }
  return votes
}

/** The steps that agree with each other, of the largest such group; the earliest where two are as large. */
export function largestGroup(view: View, steps: readonly Step[]): readonly Step[] {
  return groupsOf(view, steps)[0] ?? []
}

/** Steps that agree with each other, group by group, the largest first. */
export function groupsOf(view: View, steps: readonly Step[]): readonly (readonly Step[])[] {
  const groups: Step[][] = []
  for (const step of steps) {
    const group = groups.find(([first]) => alike(view, first!, step))
    if (group) group.push(step)
    else groups.push([step])
  }
  return groups.toSorted((a, b) => b.length - a.length)
}

/** True when two signs are the same but for the shift between their statements. */
function alike(view: View, a: Step, b: Step): boolean {
  return mismatch(view.by, view.tokens[a.token]!, view.tokens[b.token]!, b.shift - a.shift) === 0
}

/** Bits of gain that halve the doubt: see scripts and search.test.ts for what chance can do. */
const HALVES = 2

/** Twice the chance that so much is saved without a plan. */
export function doubtOf(gain: number): number {
  return Math.min(1, 2 ** (1 - gain / HALVES))
}

/** Whether a statement that breaks off is long enough to be called one. */
export function isStatement(signs: Statement["signs"], period: number): boolean {
  const standing = signs.filter(sign => sign !== null).length
  return standing >= SHORTEST || standing * 2 > period
}
