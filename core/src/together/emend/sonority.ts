/**
 * How consonant these very voices are: the shares of each kind of interval as the page has them, against what the same
 * pitches laid together at random would have. Weights made of them, with the practice's own as a start, tell a passage
 * that sounds otherwise than the rest of its piece; a piece that is full of discords is not suspected for one more.
 */
import {
  kindOfInterval,
  type CostsByStrength,
  type CounterpointWeights,
  type IntervalCosts,
  type IntervalKind,
  type PairWeights,
  type Strength,
} from "../../counterpoint/index.js"
import type { Laid } from "./stage.js"
import { OWN_SOUND_AFTER, SOUND_TEMPER } from "./weights.js"

const KINDS: readonly IntervalKind[] = ["perfect", "third", "fourth", "sixth", "discord"]

/** Counts by pair ("lowest", "upper"), way of beginning, strength, kind. */
type Counts = Map<string, number>

/** The practice's weights, made to fit what the voices sound where they do not part. */
export function adapted(all: readonly Laid[], { backdrop }: Pick<Laid, "backdrop">): CounterpointWeights {
  const counts: Counts = new Map()
  for (const { line, analysis, backdrop: others, subject } of all)
    analysis.onsets.forEach((onset, i) => {
      const step = line.graph.steps[i]!
      const end = analysis.onsets[i + 1]
      if (Number.isNaN(step) || end === undefined || subject.figures[i] === undefined) return
      others.met(step, onset, line.lowest, (pair, together, interval) => {
        const key = `${pair} ${together ? "together" : "against"} ${analysis.strengths[i]!} ${kindOfInterval(interval)}`
        counts.set(key, (counts.get(key) ?? 0) + 1)
      })
    })
  const random = randomShares(all)
  const weigh = (pair: "lowest" | "upper"): PairWeights => ({
    together: byStrength(counts, `${pair} together`, backdrop.weights[pair].together, random),
    against: byStrength(counts, `${pair} against`, backdrop.weights[pair].against, random),
  })
  return { lowest: weigh("lowest"), upper: weigh("upper") }
}

function byStrength(counts: Counts, head: string, usual: CostsByStrength, random: IntervalCosts): CostsByStrength {
  const at = (strength: Strength): IntervalCosts => {
    const seen = KINDS.map(kind => counts.get(`${head} ${strength} ${kind}`) ?? 0)
    const expected = KINDS.map(kind => random[kind] * Math.exp(-usual[strength][kind] / SOUND_TEMPER))
    const [all, sum] = [total(seen), total(expected)]
    const costs = KINDS.map((kind, i) => {
      const share = (seen[i]! + (OWN_SOUND_AFTER * expected[i]!) / sum) / (all + OWN_SOUND_AFTER)
      return [kind, SOUND_TEMPER * Math.log(random[kind] / share)] as const
    })
    return Object.fromEntries(costs) as Record<IntervalKind, number>
  }
  return [at(0), at(1), at(2)]
}

const total = (list: readonly number[]): number => list.reduce((sum, one) => sum + one, 0)

/** Shares of the kinds among all pairs of notes of different voices. */
function randomShares(all: readonly Laid[]): IntervalCosts {
  const counts: Record<IntervalKind, number> = { perfect: 1, third: 1, fourth: 1, sixth: 1, discord: 1 }
  const classes = all.map(({ line }) => {
    const own = Array.from({ length: 7 }, () => 0)
    for (const step of line.graph.steps) if (!Number.isNaN(step)) own[((step % 7) + 7) % 7]!++
    return own
  })
  classes.forEach((one, v) => {
    for (const other of classes.slice(v + 1))
      one.forEach((n, a) => other.forEach((m, b) => (counts[kindOfInterval(a - b)] += n * m)))
  })
  const sum = total(Object.values(counts))
  return Object.fromEntries(KINDS.map(kind => [kind, counts[kind] / sum])) as Record<IntervalKind, number>
}
