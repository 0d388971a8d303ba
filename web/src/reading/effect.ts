/** What is read otherwise after a change: sign by sign, and whether the voices meet. */
import {
  changesBetween,
  countText,
  decisionPlace,
  fitOf,
  fitSentence,
  toNumber,
  type Page,
  type Rational,
  type Reading,
  type SignReading,
} from "@resolutio/core"
import type { Effect, EffectOn } from "./messages.js"

export function effectOf(page: Page, before: readonly Reading[], after: readonly Reading[]): Effect {
  const [was, is] = [fitOf(before), fitOf(after)]
  const found = changesBetween(before, after)
  const changes = found.map((one): EffectOn => ({
    sign: one.after.id,
    place:
      one.after.number > 0
        ? `${one.reading.label || one.reading.n} ${one.after.number}`
        : decisionPlace(page, { sign: one.after.id }),
    before: value(one.before, one.lasted),
    after: value(one.after, one.lasts),
    ...(one.after.number > 0 ? { unit: one.unit } : {}),
    isShort: toNumber(one.lasts) <= 1,
  }))
  const onsets = found.map(one => toNumber(one.after.onset))
  const first = changes[onsets.indexOf(Math.min(...onsets))]
  return { changes, ...(first ? { first } : {}), fit: fitSentence(is), asBefore: was.together === is.together }
}

const value = ({ number, takenFor }: SignReading, lasts: Rational): string =>
  number > 0 ? countText(lasts) : (takenFor ?? "nothing").replaceAll("-", " ")
