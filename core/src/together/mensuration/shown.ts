/** Which of the mensurations that were tried are worth showing, and in what words. */
import { suppliedLevels } from "./supply.js"
import type { Candidate, VoiceFound } from "./types.js"
import { mensurationInWords } from "./words.js"

/** The first, and for each level that is not stated the likeliest with the other division. */
export function shownCandidates(found: VoiceFound): readonly Candidate[] {
  const { candidates } = found
  const first = candidates[0]
  if (first === undefined) return []
  const others = suppliedLevels(found).flatMap(
    level => candidates.find(one => one.divisions[level] !== first.divisions[level]) ?? [],
  )
  return candidates.filter(one => one === first || others.includes(one))
}

/** What the notes alone make of it against the first (natural logarithm of odds). */
export function ownOdds(one: Candidate, { candidates }: VoiceFound): number {
  const first = candidates[0]!
  return Math.log(one.chance / first.chance) - one.others
}

/** As `mensurationInWords`; before the Ars nova there is no prolation to speak of. */
export function divisionsInWords(divisions: Candidate["divisions"], { practice }: VoiceFound): string {
  const words = mensurationInWords(divisions)
  return practice.name === "ars-antiqua" ? words.replace(/, prolatio \w+/, "") : words
}
