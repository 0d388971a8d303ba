/** A score performed as it is to be heard. */
import { perform, tactusSeconds, withCountIn, type Performance, type Rational, type Score } from "@resolutio/core"
import { performanceOptions, type Hearing } from "./hearing.js"

/** Counted before it where nothing else is wanted. */
const BEATS = 4

/** Throws where it cannot be performed, with a sentence. */
export function performed(score: Score, hearing: Hearing): Performance {
  const result = perform(score, performanceOptions(hearing))
  if (!result.ok) {
    const sentences = result.problems.map(({ what, mend }) => `${what} ${mend ?? ""}`.trim())
    // whoever tells it ends the sentence
    throw new Error(sentences.join(" ").replace(/\.$/, "") || "it cannot be performed")
  }
  return hearing.countIn ? countedIn(result.value, score, hearing) : result.value
}

/** With beats of the hand before it; `from` is where it begins in the score. */
export function countedIn(
  performance: Performance,
  score: Score,
  { beats = BEATS }: Hearing,
  from?: Rational,
): Performance {
  return withCountIn(performance, beats, tactusSeconds(performance, score, from))
}
