/** Work that pauses again and again, so that it can be left off. */
export type Paused<Result> = Generator<undefined, Result>

/** The result, without pauses. */
export function toTheEnd<Result>(work: Generator<unknown, Result>): Result {
  for (;;) {
    const { done, value } = work.next()
    if (done) return value as Result
  }
}
