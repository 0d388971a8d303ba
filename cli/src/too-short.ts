/** What is said where a piece has durations that no modern note can show. */
import type { Problem, TooShort } from "@resolutio/core"

export function tooShort(error: TooShort): Problem {
  return {
    code: "too-short",
    what: `There is no score of it: ${error.message}.`,
    mend: "Ask for a smaller --reduction, or look for durations given in the file, or proportions, that make a sign so short.",
    severity: "error",
  }
}
