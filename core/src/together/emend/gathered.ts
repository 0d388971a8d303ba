/**
 * What is lost leaves no sign of where it stood: a gap a note earlier or later is the same emendation, only placed otherwise. They are
 * counted as one, which stands where it is most surely within a few signs of the right place.
 */
import type { Candidate } from "./candidates.js"
import { LOST_WITHIN } from "./weights.js"

/** A change with the natural logarithm of its odds. */
interface Odds {
  readonly candidate: Candidate
  readonly gain: number
}

/** The same changes, of lost passages that stand near each other one for all of them, with the odds of all; the likeliest first. */
export function gathered<T extends Odds>(tried: readonly T[]): T[] {
  const isLost = ({ candidate }: T): boolean => candidate.kind === "passage-missing"
  const found = tried.filter(one => !isLost(one))
  let left = tried.filter(isLost)
  while (left.length > 0) {
    const rest = left
    const odds = new Map(
      rest.map(one => [one, oddsOfAll(rest.filter(other => isNear(one.candidate, other.candidate)))]),
    )
    const most = Math.max(...odds.values())
    const best = rest.filter(one => odds.get(one)! > most - NEARLY).reduce((a, b) => (b.gain > a.gain ? b : a))
    found.push({ ...best, gain: odds.get(best)! })
    left = rest.filter(other => !isNear(best.candidate, other.candidate))
  }
  return found.sort((a, b) => b.gain - a.gain)
}

/** Of places with nearly the same odds around them the likeliest by itself is taken. */
const NEARLY = 0.05

const isNear = (a: Candidate, b: Candidate): boolean => a.voice === b.voice && Math.abs(a.from - b.from) <= LOST_WITHIN

function oddsOfAll(some: readonly Odds[]): number {
  const top = Math.max(...some.map(({ gain }) => gain))
  return top + Math.log(some.reduce((sum, { gain }) => sum + Math.exp(gain - top), 0))
}
