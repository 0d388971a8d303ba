/** Color and talea as data for other programs (docs/json.md tells it member by member). */
import { toText, type Problem } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { planOf, type Difference, type Repetition, type Series, type Statement } from "../../together/index.js"
import { type Json, problemsMember, rounded, unreadable } from "./common.js"

export const TENOR_FORMAT = "resolutio-tenor"
export const TENOR_VERSION = 1

/** The object that `resolutio tenor --format json` prints. `voices`: those that were looked at. */
export function tenorJson(
  page: Page,
  voices: readonly { readonly reading: Reading; readonly repetition: Repetition }[],
  problems: readonly Problem[] = [],
): Json {
  return {
    format: TENOR_FORMAT,
    version: TENOR_VERSION,
    title: page.title,
    voices: voices.map(({ reading, repetition }) => voiceJson(reading, repetition)),
    ...problemsMember(problems),
  }
}

function voiceJson(reading: Reading, repetition: Repetition): Json {
  const numbers = new Map<string, number>(reading.signs.map(sign => [sign.id, sign.number]))
  const series = (one: Series) => seriesJson(one, id => `${reading.label} ${numbers.get(id) ?? "?"}`)
  return {
    n: reading.n,
    label: reading.label,
    unit: reading.unit,
    plan: planOf(repetition),
    colores: repetition.colores.map(series),
    taleae: repetition.taleae.map(series),
  }
}

function seriesJson(series: Series, placeOf: (sign: string) => string): Json {
  const { by, places, statements, differences, gain, doubt } = series
  return {
    by,
    places,
    statements: statements.map(statementJson),
    differences: differences.map(one => differenceJson(one, placeOf)),
    gain,
    doubt: rounded(doubt),
  }
}

function statementJson({ number, signs, extra, complete, steps, names, ratio, onset, duration }: Statement): Json {
  return {
    number,
    signs,
    extra: extra.map(({ sign, before }) => ({ sign, before: before + 1 })),
    complete,
    steps,
    names,
    ratio: ratio && toText(ratio),
    onset: toText(onset),
    duration: toText(duration),
  }
}

function differenceJson(one: Difference, placeOf: (sign: string) => string): Json {
  const { statement, place, sign, kind, own, others, fellows, odd } = one
  return { statement, at: place + 1, sign, place: placeOf(sign), kind, own, others, fellows, odd }
}

/** The object of a file that could not be read. */
export function unreadableTenorJson(file: string, problems: readonly Problem[]): Json {
  return unreadable(TENOR_FORMAT, TENOR_VERSION, file, problems)
}
