/** One change that takes up two slips, beside repairs of each: by numbers alone, no page is read. */
import { expect, test } from "vitest"
import type { Stage } from "./stage.js"
import type { Tried } from "./trial.js"
import type { Progress } from "./types.js"
import { oneAfterOther, type Seen } from "./two-slips.js"
import { MEETS_AGAIN, OTHER_PLACE_WITHIN, PAIR_GAINS } from "./weights.js"

const stage = {} as Stage
const tried = (voice: string, from: number, gain: number, meets = true): Tried =>
  ({
    candidate: { voice, from, to: from, kind: "rest-changed", edit: { voice, at: from } },
    gain,
    terms: { meets },
  }) as unknown as Tried

/** What is told where `after` is found when one is made in thought, and which of them were made. */
function told(all: readonly Tried[], after: (one: Tried) => readonly Tried[]) {
  const made: Tried[] = []
  const work = oneAfterOther({ stage, tried: all }, function* (one): Generator<Progress, Seen> {
    yield { step: 2, done: made.push(one), of: all.length }
    return { stage, tried: after(one) }
  })
  for (;;) {
    const { done, value } = work.next()
    if (done) return { first: value.tried[0]!, next: value.next, made }
  }
}

const best = tried("a", 10, 14)
const other = tried("b", 30, 13)

test("where nothing is left after either, the better one stays first, and what was seen after it is not looked at again", () => {
  const { first, next, made } = told([best, other], () => [])
  expect(first).toBe(best)
  expect(next?.tried).toEqual([])
  expect(made).toEqual([best, other])
})

test.each([
  ["less than one slip more has to gain", -0.1, false],
  ["more than that", 0.1, true],
])("another repair goes first if what comes after it adds %s", (_, more, goes) => {
  // that all voices meet is counted once
  const gain = PAIR_GAINS + MEETS_AGAIN + best.gain - other.gain + more
  const { first, next } = told([best, other], one => (one === other ? [tried("c", 5, gain)] : []))
  expect(first.candidate.voice).toBe(goes ? "b" : "a")
  expect(next?.tried.length).toBe(goes ? 1 : 0)
  if (goes) expect(first.gain).toBeCloseTo(best.gain + PAIR_GAINS + more)
})

test("of two that both leave a second slip the likelier with it goes first", () => {
  const second = (one: Tried): Tried[] => [tried("c", 5, one === other ? 9 : 7)]
  expect(told([best, other], second).first.candidate.voice).toBe("b")
  expect(told([best, other], () => [tried("c", 5, 9)]).first).toBe(best)
})

test("what is much less likely, or stands at the place of the best, is not asked", () => {
  const near = tried("a", 12, 13.5)
  const unlikely = tried("d", 3, best.gain - OTHER_PLACE_WITHIN - 0.1)
  const { made, next } = told([best, near, unlikely], () => [tried("c", 5, 30)])
  expect(made).toEqual([])
  expect(next).toBeUndefined()
})

test("one after which the voices do not meet yet is asked though it lacks what meeting says", () => {
  const apart = tried("d", 3, best.gain - OTHER_PLACE_WITHIN - MEETS_AGAIN + 0.1, false)
  const { first } = told([best, apart], one => (one === apart ? [tried("c", 5, 20)] : []))
  expect(first.candidate.voice).toBe("d")
})
