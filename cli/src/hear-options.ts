/** Flags of `resolutio hear` as the core takes them; each that cannot be taken is a problem that says what could. */
import {
  EQUIVALENCES,
  TEMPO_VALUES,
  TUNINGS,
  fromText,
  intervalFrom,
  parseTuning,
  timeFromText,
  type Equivalence,
  type EquivalenceDecision,
  type PerformanceOptions,
  type Problem,
  type Result,
  type Score,
  type Tempo,
  type Tuning,
} from "@resolutio/core"
import { basename } from "node:path"
import { readText } from "./files.js"
import type { HearFlags } from "./hear-flags.js"
import { voiceSounds } from "./hear-voices.js"
import { either } from "./messages.js"

/** A table of notes is short. */
const LARGEST_TABLE = 65_536

/** Everything but the part of the piece that is heard. */
export function performanceOptions(flags: HearFlags, score: Score): Result<PerformanceOptions> {
  const taken = new Taken()
  const tuning = taken.from(tuningOf(flags.tuning))
  const voices = taken.from(voiceSounds(flags, score))
  const equivalence = taken.from(equivalences(flags.equivalence))
  const options: PerformanceOptions = {
    plica: flags.plica,
    ...given("tempo", taken.from(tempoOf(flags.tempo))),
    ...given("speed", taken.from(speedOf(flags.speed))),
    ...given("tuning", tuning),
    ...given("year", taken.from(numberOf("--year", flags.year, 800, 2100, "a year, such as 1450", true))),
    ...given("reference", taken.from(numberOf("--pitch", flags.pitch, 220, 880, "hertz of the a above the middle c"))),
    ...given("shift", taken.from(shiftOf(flags.shift))),
    ...given("fermata", taken.from(numberOf("--fermata", flags.fermata, 1, 10, "how many times as long it lasts"))),
    ...given("final", taken.from(numberOf("--final", flags.final, 0, 30, "seconds that the final sounds at least"))),
    ...voices,
    ...equivalence,
  }
  return taken.problems.length > 0
    ? { ok: false, problems: taken.problems }
    : { ok: true, value: options, problems: [] }
}

/** Collects what is wrong with several flags, so that all of it is told at once. */
class Taken {
  readonly problems: Problem[] = []
  from<T>(result: Result<T>): T | undefined {
    if (result.ok) return result.value
    this.problems.push(...result.problems)
    return undefined
  }
}

const given = <K extends keyof PerformanceOptions>(name: K, value: PerformanceOptions[K] | undefined) =>
  value === undefined ? {} : { [name]: value }

export const fine = <T>(value: T): Result<T> => ({ ok: true, value, problems: [] })

export function wrong(place: string, what: string, mend: string): Result<never> {
  return { ok: false, problems: [{ code: "bad-option", what, where: { place }, mend, severity: "error" }] }
}

/** A number within bounds; `what` it counts. */
export function numberOf(
  place: string,
  text: string | undefined,
  from: number,
  to: number,
  what: string,
  whole = false,
): Result<number | undefined> {
  const value = text === undefined || text.trim() === "" ? NaN : Number(text)
  if (text === undefined) return fine(undefined)
  if (value >= from && value <= to && (!whole || Number.isInteger(value))) return fine(value)
  return wrong(
    place,
    `“${text}” cannot be taken: it is to be ${what}.`,
    `Write a ${whole ? "whole " : ""}number from ${from} to ${to}.`,
  )
}

/** "semibrevis=60", or "60" for beats of the hand. */
function tempoOf(text: string | undefined): Result<Tempo | undefined> {
  if (text === undefined) return fine(undefined)
  const found = /^(?:([a-z]+)\s*=\s*)?(\d+(?:\.\d+)?)$/i.exec(text.trim())
  const value = TEMPO_VALUES.find(one => one === (found?.[1] ?? "tactus").toLowerCase())
  const perMinute = Number(found?.[2])
  if (value && perMinute >= 1 && perMinute <= 2000) return fine({ value, perMinute })
  return wrong(
    "--tempo",
    `“${text}” is no speed.`,
    `Write a value and how many of it go into a minute, 1 to 2000: semibrevis=60. Values are ${either(TEMPO_VALUES)}.`,
  )
}

/** "0.5", "1/2" or "50%". */
function speedOf(text: string | undefined): Result<number | undefined> {
  if (text === undefined) return fine(undefined)
  const percent = /^(\d+(?:\.\d+)?)\s*%$/.exec(text.trim())
  const fraction = fromText(text)
  const speed = percent ? Number(percent[1]) / 100 : fraction ? fraction.num / fraction.den : Number(text)
  if (speed >= 0.1 && speed <= 10) return fine(speed)
  return wrong(
    "--speed",
    `“${text}” is no speed.`,
    "Write how many times as fast it is to go, from 0.1 to 10: 0.5, 1/2 or 50%.",
  )
}

/** "breve" for all changes; "24=breve" or "24=3/2" for the one after 24 units. */
function equivalences(
  texts: readonly string[],
): Result<{ equivalence?: Equivalence; decisions?: readonly EquivalenceDecision[] }> {
  let equivalence: Equivalence | undefined
  const decisions: EquivalenceDecision[] = []
  for (const text of texts) {
    const [first = "", second] = text.split("=").map(part => part.trim())
    const kept = EQUIVALENCES.find(one => one === (second ?? first))
    const onset = second === undefined ? undefined : timeFromText(first)
    const ratio = second === undefined ? undefined : timeFromText(second)
    const fits = ratio && ratio.num / ratio.den >= 1 / 16 && ratio.num / ratio.den <= 16
    if (onset && (kept || fits)) decisions.push({ onset, keeps: kept ?? ratio! })
    else if (second === undefined && kept) equivalence = kept
    else
      return wrong(
        "--equivalence",
        `“${text}” does not say what stays equal.`,
        `Write ${either(EQUIVALENCES)}; for one change put its moment in front: 24=breve, or 24=3/2 for a unit so much faster.`,
      )
  }
  return fine({ ...(equivalence ? { equivalence } : {}), ...(decisions.length > 0 ? { decisions } : {}) })
}

function shiftOf(text: string | undefined) {
  if (text === undefined) return fine(undefined)
  const shift = intervalFrom(text)
  if (shift) return fine(shift)
  return wrong(
    "--shift",
    `“${text}” is no interval.`,
    "Write P4 for a fourth up, -M2 for a tone down; also m3, P5, P8 and the like.",
  )
}

/** A tuning by name, else a table in a file. */
function tuningOf(text: string | undefined): Result<Tuning | undefined> {
  if (text === undefined) return fine(undefined)
  const named = TUNINGS.find(one => one === text.toLowerCase())
  if (named) return fine(named)
  if (!/[./\\]/.test(text))
    return wrong(
      "--tuning",
      `There is no tuning “${text}”.`,
      `Write ${either(TUNINGS)}, or the name of a file with a table of your own.`,
    )
  const table = readText(text, LARGEST_TABLE)
  return table.ok ? parseTuning(table.value, text, basename(text)) : table
}
