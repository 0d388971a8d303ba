/**
 * What a voice shows of its scribe's way with semibreves. Counts over a whole repertory say how often a run without a dot
 * is one breve on the average. But a scribe is consistent (common practice): where a voice dots nearly every boundary, an
 * undotted run is very likely one group; where it dots few, the lack of a dot tells nothing; and in a voice without pairs
 * an undotted four is hardly two of them.
 *
 * Three things are not known of a voice: how often a group is followed by another (f), how often the dot between them is
 * left out (u), and how often groups have each size. After a group an undotted one follows with chance f*u, a dotted one
 * with f*(1-u), something larger otherwise; a run without a dot may have been cut in every way. Values of f and u are
 * weighed by how well they foretell what is written, so that each dot speaks, and each run that is too short or too long
 * to be one way or the other; doubtful runs speak as far as they can. What comes of it is a change of prices: nothing where
 * the voice shows nothing.
 */
import type { SemibreveRuns } from "./semibreve-runs.js"

/** How many of a hundred groups have a size; by size, from 0 on. */
export type Sizes = readonly number[]

/** What a voice changes of the prices that follow the counts over the whole repertory. */
export interface Habits {
  /** Added to the price of a boundary without a dot. */
  readonly boundary: number
  /** Added to the price of a group, by its size. */
  readonly sizes: readonly number[]
}

/** What is counted in a voice: runs without a dot inside, by their length, and how many of them a dot parts from another. */
export interface CountedRuns {
  readonly lengths: number[]
  dots: number
}

/** Of all boundaries between semibreves a third to a fifth has no dot (theory: observed habits): the middle of it. */
export const LEFT_OUT = 4 / 15
/**
 * So many values of each are weighed. That most scribes leave out few dots and some nearly all is an estimate; how many
 * groups follow each other is a matter of the music, and every share as likely beforehand.
 */
const STEPS = 8
const EVENLY = Array.from({ length: STEPS }, (_, n) => (n + 0.5) / STEPS)
const LEAVING_OUT = EVENLY.map(at => at ** (1 / LEFT_OUT - 1))
const PAIRED = EVENLY.flatMap(follows => LEAVING_OUT.map(out => ({ follows, out })))
const UNDOTTED = PAIRED.map(({ follows, out }) => follows * out)
const LOG_DOTTED = PAIRED.map(({ follows, out }) => Math.log(follows * (1 - out)))
const LOG_LAST = PAIRED.map(({ follows }) => Math.log(1 - follows))
const USUAL = UNDOTTED.reduce((sum, one) => sum + one, 0) / UNDOTTED.length

/**
 * Sizes in the average voice. Of c. 1315-25: estimates, by which, with the share of dots above, an undotted four is one
 * breve 27 to 7. Where breves hold many about 1300: the prices of groups that nothing marks (`semibreve-costs.ts`).
 */
export const SIZES_EARLY: Sizes = [0, 0, 47, 30, 11, 6, 6]
export const SIZES_MANY: Sizes = [0, 0, 50, 35, 3.7, 3.7, 3.7, 3.7]
/** So many groups of the average voice weigh as much as those that are seen: an estimate, tried on invented voices. */
export const AVERAGE_WEIGHS = 10
/** Sizes and dots bear on each other: they are worked out in turn so often. */
const ROUNDS = 3

/** Longer runs count as of this length; shorter ones are one group. */
const LONGEST = 24
export const SHORTEST_CUT = 4
/** Prices change by steps, so that an edit that tells next to nothing changes none; and no further than so far. */
const STEP = 4
/**
 * How much dearer a boundary without a dot may become. Nobody forgets no dot at all; and where voices are read together it is
 * the others that tell: a habit too firmly believed would keep a long voice from meeting them.
 */
export const DEAREST = { alone: 2, together: 0.5 } as const
const CHEAPEST = -1
const MOST_BY_SIZE = 2

export const noRuns = (): CountedRuns => ({ lengths: new Array<number>(LONGEST + 1).fill(0), dots: 0 })
export const NO_HABITS: Habits = { boundary: 0, sizes: new Array<number>(LONGEST + 1).fill(0) }

/** Adds the runs of a stretch; `counts` tells whether a run from one figure to another bears no other mark. */
export function countRunsOf(
  counted: CountedRuns,
  { from, to, marks }: SemibreveRuns,
  counts: (from: number, to: number) => boolean,
): void {
  const { length } = from
  for (let i = 0; i < length; i++) {
    const end = to[i]!
    if (end <= i) continue
    if (marks[end - 1] === 1 && end < length && to[end]! > end) counted.dots++
    if (end - i > 1 && counts(i, end)) counted.lengths[Math.min(end - i, LONGEST)]!++
    i = end - 1
  }
}

export const sameCounts = (a: CountedRuns, b: CountedRuns): boolean =>
  a.dots === b.dots && a.lengths.every((n, length) => n === b.lengths[length])

export const samePrices = (a: Habits, b: Habits): boolean =>
  a.boundary === b.boundary && a.sizes.every((price, size) => price === b.sizes[size])

/** `bySize`: the sizes of groups are the voice's own as well. `dearest`: the most that is added to the price of a boundary. */
export function habitsOf(counted: CountedRuns, usual: Sizes, bySize: boolean, dearest: number): Habits {
  const longest = counted.lengths.findLastIndex(n => n > 0)
  if (longest < 0 && counted.dots === 0) return NO_HABITS
  let own = usual.map(size => size / 100)
  let undotted = undottedIn(counted, longest, own)
  const rounds = bySize ? ROUNDS : 0
  for (let n = 0; n < rounds; n++) {
    own = sizesIn(counted, usual, own, undotted)
    undotted = undottedIn(counted, longest, own)
  }
  const sizes = NO_HABITS.sizes.map((none, size) =>
    usual[size]! > 0 ? stepped(Math.log(usual[size]! / 100 / own[size]!), -MOST_BY_SIZE, MOST_BY_SIZE) : none,
  )
  return { boundary: stepped(Math.log(USUAL / undotted), CHEAPEST, dearest), sizes }
}

const stepped = (price: number, least: number, most: number): number =>
  Math.max(least, Math.min(most, Math.round(price * STEP) / STEP))

const weights: number[] = []

/** After how many groups another follows without a dot: the mean over all values of both habits. */
function undottedIn({ lengths, dots }: CountedRuns, longest: number, sizes: Sizes): number {
  const last = Math.max(0, lengths.reduce((sum, n) => sum + n, 0) - dots)
  let top = -Infinity
  for (let n = 0; n < UNDOTTED.length; n++) {
    let log = dots * LOG_DOTTED[n]! + last * LOG_LAST[n]!
    waysOf(longest, sizes, UNDOTTED[n]!)
    // shorter runs cannot be cut, and tell nothing
    for (let length = SHORTEST_CUT; length <= longest; length++)
      if (lengths[length]! > 0) log += lengths[length]! * Math.log(ways[length]!)
    weights[n] = log
    if (log > top) top = log
  }
  let [all, sum] = [0, 0]
  for (let n = 0; n < UNDOTTED.length; n++) {
    const weight = Math.exp(weights[n]! - top)
    all += weight
    sum += weight * UNDOTTED[n]!
  }
  return sum / all
}

/** How likely a run of each length is over all ways to cut it, but for how it ends; written anew for each value. */
const ways: number[] = [1]

function waysOf(longest: number, sizes: Sizes, undotted: number): readonly number[] {
  for (let length = 1; length <= longest; length++) {
    let sum = 0
    for (let size = 2; size < length && size < sizes.length; size++) sum += sizes[size]! * ways[length - size]!
    ways[length] = sum * undotted + (sizes[length] ?? 0)
  }
  return ways
}

/** The share of each size when the voice's groups are added to those of the average one. */
function sizesIn({ lengths }: CountedRuns, usual: Sizes, sizes: Sizes, undotted: number): number[] {
  const found = groupsIn(lengths, sizes, undotted)
  const all = found.reduce((sum, n) => sum + n, AVERAGE_WEIGHS)
  return usual.map((size, n) => (found[n]! + (AVERAGE_WEIGHS * size) / 100) / all)
}

/** How many groups of each size the runs hold, on the mean over all ways to cut them. */
function groupsIn(lengths: readonly number[], sizes: Sizes, undotted: number): number[] {
  const longest = lengths.findLastIndex(n => n > 0)
  const all = waysOf(longest, sizes, undotted).slice()
  const found = sizes.map(() => 0)
  // what is left to be cut of the runs, from the longest on: the chance that a group ends where so many are left
  const left = lengths.map((n, length) => (n > 0 ? n / all[length]! : 0))
  for (let length = longest; length > 1; length--)
    for (let size = 2; size <= length && size < sizes.length; size++) {
      const whole = size === length
      const share = left[length]! * sizes[size]! * (whole ? 1 : undotted)
      found[size]! += share * all[length - size]!
      if (!whole) left[length - size]! += share
    }
  return found
}
