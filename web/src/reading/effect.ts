/** What is read otherwise after a change: sign by sign, and whether the voices meet. */
import {
  changesBetween,
  countText,
  decisionPlace,
  fitOf,
  fitSentence,
  type Page,
  type Reading,
  type SignReading,
} from "@resolutio/core"
import type { Effect } from "./messages.js"

export function effectOf(page: Page, before: readonly Reading[], after: readonly Reading[]): Effect {
  const [was, is] = [fitOf(before), fitOf(after)]
  return {
    changes: changesBetween(before, after).map(one => ({
      sign: one.after.id,
      place:
        one.after.number > 0
          ? `${one.reading.label || one.reading.n} ${one.after.number}`
          : decisionPlace(page, { sign: one.after.id }),
      before: value(one.before),
      after: value(one.after),
    })),
    fit: was.together === is.together ? "" : fitSentence(is),
  }
}

const value = ({ number, duration, takenFor }: SignReading): string =>
  number > 0 ? countText(duration) : (takenFor ?? "nothing").replaceAll("-", " ")
