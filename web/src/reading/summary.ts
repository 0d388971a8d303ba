/** What the voices come to together, and what about them is worth a look. */
import {
  countText,
  decisionPlace,
  fitOf,
  fitSentence,
  headlineOf,
  otherLengths,
  toNumber,
  type Page,
  type Problem,
  type Reading,
  type Score,
  type SignId,
  type SignReading,
  type Together,
} from "@resolutio/core"
import type { Matter, ReadSummary } from "./messages.js"

/** From this doubt on a sign is worth a look: one chance in forty that it is wrong. */
const WORTH_A_LOOK = 0.05

export function summaryOf(page: Page, together: Together, score: Score): ReadSummary {
  const moments = momentsOf(score)
  const { written, empty } = writtenOf(together.readings)
  // of a voice that is still to be written it is not said that it does not meet the others
  const partings = score.problems.filter(({ code }) => empty.length === 0 || code !== "voices-part")
  const matters = [
    ...partings.map(one => problemMatter(page, one, moments, "parting")),
    ...together.readings.flatMap(reading => [
      ...doubtsOf(reading, moments),
      ...reading.problems.map(one => problemMatter(page, one, moments, "problem")),
    ]),
  ]
  const sung = empty.length === 0 ? score.voices.length : written.length
  return {
    fit: sung > 1 ? fitSentence(empty.length === 0 ? score.fit : fitOf(written)) : "",
    empty: empty.map(({ label, n }) => label || n),
    together: score.fit.together,
    duration: countText(score.duration),
    unit: score.unit,
    matters: matters.sort((a, b) => a.moment - b.moment),
    assumed: together.assumed,
  }
}

/** Voices in which a note or rest stands, and those in which none does. */
function writtenOf(readings: readonly Reading[]): Readonly<Record<"written" | "empty", readonly Reading[]>> {
  const isWritten = ({ signs }: Reading): boolean => signs.some(({ number }) => number > 0)
  return { written: readings.filter(isWritten), empty: readings.filter(one => !isWritten(one)) }
}

function momentsOf({ voices }: Score): ReadonlyMap<string, number> {
  const moments = new Map<string, number>()
  for (const { events } of voices) for (const { id, onset } of events) if (id !== null) moments.set(id, toNumber(onset))
  return moments
}

/** Neighbours that are in doubt are in doubt together: one matter. */
function doubtsOf(reading: Reading, moments: ReadonlyMap<string, number>): Matter[] {
  const matters: Matter[] = []
  let run: SignReading[] = []
  const close = (): void => {
    if (run.length > 0) matters.push(doubtMatter(reading, run, moments))
    run = []
  }
  for (const sign of reading.signs) {
    if (sign.number === 0) continue
    if (sign.doubt >= WORTH_A_LOOK) run.push(sign)
    else close()
  }
  close()
  return matters
}

function doubtMatter(reading: Reading, run: readonly SignReading[], moments: ReadonlyMap<string, number>): Matter {
  const { label, n } = reading
  const worst = run.reduce((one, other) => (other.doubt > one.doubt ? other : one))
  const [first, last] = [run[0]!, run.at(-1)!]
  const numbers = first === last ? `${first.number}` : `${first.number}–${last.number}`
  return {
    kind: "doubt",
    sign: worst.id,
    place: `${label || n} ${numbers}`,
    what: `${headlineOf(reading, worst)}${first === last ? "" : ` (${label || n} ${worst.number})`}.`,
    mend: otherLengths(reading, worst),
    moment: moments.get(first.id) ?? 0,
  }
}

function problemMatter(
  page: Page,
  { what, where, mend }: Problem,
  moments: ReadonlyMap<string, number>,
  kind: "parting" | "problem",
): Matter {
  const sign = where?.sign as SignId | undefined
  return {
    kind,
    ...(sign === undefined ? {} : { sign }),
    place: where?.place ?? (sign === undefined ? "" : decisionPlace(page, { sign })),
    what,
    mend,
    moment: (sign === undefined ? undefined : moments.get(sign)) ?? -1,
  }
}
