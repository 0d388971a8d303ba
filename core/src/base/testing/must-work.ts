/** For tests: the value of what has to succeed. */
import type { Result } from "../index.js"

/** Throws with all that is wrong where it did not succeed. */
export function mustWork<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems.map(one => one.what).join(" "))
  return result.value
}
