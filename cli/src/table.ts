/** A reading as a table that a musician can follow. */
import {
  equals,
  explainShort,
  modernName,
  practiceNamed,
  ratio,
  times,
  toText,
  unitInWholes,
  type MensurationSpan,
  type Page,
  type Rational,
  type Reading,
  type SignReading,
} from "@resolutio/core"
import { columns, paragraph, wrap } from "./layout.js"
import { showProblem } from "./messages.js"
import type { TableOptions } from "./printer.js"
import { writtenSigns } from "./written.js"
import { plain } from "./shell.js"

export interface VoiceTableOptions extends TableOptions {
  /** Every sign, however long the voice. */
  readonly all: boolean
}

/** Voices up to this many signs are shown whole. */
const SHORT = 40
const OPENING = 12
const ENDING = 3
/** From this doubt on a sign is worth a look. */
const DOUBTFUL = 0.05
const VERY_DOUBTFUL = 0.5

/** The lines of one voice: its name, how it is measured, its signs, what is wrong with it. */
export function voiceTable(page: Page, reading: Reading, options: VoiceTableOptions): string[] {
  const shown = options.all ? reading.signs.map(() => true) : whatMatters(reading)
  const written = writtenSigns(page, reading)
  const rows: string[][] = [["", "sign", "pitch", UNITS[reading.unit], "as modern", "quality", "", "why"]]
  for (let at = 0; at < reading.signs.length; at++) {
    const sign = reading.signs[at]
    if (sign && shown[at]) rows.push([number(sign, reading), ...row(reading, sign, written.get(sign.id) ?? "")])
    else if (at === 0 || shown[at - 1]) rows.push(gap(shown, at))
  }
  const [head = "", ...body] = columns(rows, options.columns)
  return [
    ...heading(reading).flatMap((line, at) => wrap(line, options.columns).map(at === 0 ? options.bold : options.dim)),
    ...(reading.signs.length > 0
      ? [options.dim(head), ...body]
      : [
          page.voices.find(voice => voice.id === reading.voice)?.signs.length
            ? "No sign of this voice can be read."
            : "Nothing stands in this voice yet.",
        ]),
    ...reading.problems.flatMap(problem => paragraph(showProblem(problem), options.columns)),
  ]
}

export const UNITS = { minima: "minims", tempus: "tempora" } as const
const ONE = { minima: "minim", tempus: "tempus" } as const

/** "6 minims", "1 tempus". */
export const lastingText = (duration: Rational, unit: keyof typeof UNITS): string =>
  `${toText(duration)} ${(duration.num === duration.den ? ONE : UNITS)[unit]}`

function heading(reading: Reading): string[] {
  const { practice, unit, duration, mensurations } = reading
  const options = unusualOptions(practice)
  return [
    `${plain(reading.label)}: ${lastingText(duration, unit)}`,
    `Practice ${practice.name} (${origin(practice)})${options.length > 0 ? `: ${options.join(", ")}` : ""}`,
    // A sign that states it has a row of its own.
    ...mensurations
      .slice(0, 1)
      .filter(span => span.sign === undefined || span.doubt > 0)
      .map(span => `${levels(span)} (${origin(span)})${more(mensurations.length - 1)}`),
    ...canonLines(reading),
  ]
}

/** How the part is sung, voice by voice. */
export function canonLines({ canon }: Reading): string[] {
  if (!canon) return []
  const from = {
    decision: "an editor's decision",
    inscription: "the canon on the page",
    signs: "the signs at its head",
  }
  const voices = canon.voices.map(({ label, words }) => (label === undefined ? words : `${plain(label)}: ${words}`))
  const many = voices.length > 1 ? `by ${voices.length} voices: ` : ""
  return [`Sung ${many}${voices.join("; ")} (${from[canon.from]})`]
}

/** Options that are not as the practice has them when nothing is said. */
function unusualOptions({ name, options, from, settled = [] }: Reading["practice"]): string[] {
  const usual = new Map(practiceNamed(name)?.options.map(one => [one.name, one.default]))
  return Object.entries(options)
    .filter(([option, value]) => usual.get(option) !== value)
    .map(([option, value]) => {
      const how = from !== "inferred" && settled.includes(option) ? " (inferred)" : ""
      return `${option}=${value}${how}`
    })
}

const more = (changes: number) => (changes > 0 ? `; ${changes === 1 ? "one change" : `${changes} changes`} later` : "")

function origin({ from, doubt }: { readonly from: string; readonly doubt: number }): string {
  const words: Record<string, string> = { given: "stated in the file", option: "as you asked", inferred: "inferred" }
  return `${words[from] ?? from}${doubtMark(doubt)}`
}

function levels(span: MensurationSpan): string {
  const known = (["modusMaior", "modusMinor", "tempus", "prolatio"] as const).filter(level => span[level] !== null)
  return `Measured by ${known.map(level => `${LEVEL_NAMES[level]} ${division(level, span[level])}`).join(", ")}`
}
const LEVEL_NAMES = { modusMaior: "modus maior", modusMinor: "modus minor", tempus: "tempus", prolatio: "prolatio" }

function division(level: string, parts: 2 | 3 | null): string {
  if (level === "prolatio") return parts === 3 ? "maior" : "minor"
  return parts === 3 ? "perfect" : "imperfect"
}

function row(reading: Reading, sign: SignReading, written: string): string[] {
  const lasts = sign.kind === "note" || sign.kind === "rest"
  const modern = modernName(times(sign.duration, unitInWholes(reading.practice.name, reading.unit)))
  return [
    plain(written),
    sign.pitch ?? "",
    lasts ? toText(sign.duration) : "",
    lasts ? modern : "",
    sign.quality ?? "",
    doubtMark(sign.doubt).trim(),
    plain(why(reading, sign)),
  ]
}

/** A reason, or for a sign of mensuration or proportion what holds from it on. */
function why(reading: Reading, sign: SignReading): string {
  if (sign.kind !== "mensuration" && sign.kind !== "proportion") return explainShort(reading, sign)
  const span = reading.mensurations.find(one => one.sign === sign.id)
  return span ? `${levels(span)}${proportionOf(span)}` : ""
}

function proportionOf({ proportion }: MensurationSpan): string {
  return equals(proportion, ratio(1)) ? "" : `; ${proportion.num} in the time of ${proportion.den}`
}

/** The number under which `explain` knows the sign, set flush right. */
function number({ number: own }: SignReading, { signs }: Reading): string {
  return own > 0 ? String(own).padStart(String(signs.length).length) : ""
}

/** Nothing, " ?" or " ??": how little the duration is to be trusted. */
export function doubtMark(doubt: number): string {
  return doubt >= VERY_DOUBTFUL ? " ??" : doubt >= DOUBTFUL ? " ?" : ""
}

/** Of a long voice: how it begins and ends, what is in doubt or wrong with a neighbour on either side, changes of sign. */
function whatMatters({ signs, problems }: Reading): boolean[] {
  if (signs.length <= SHORT) return signs.map(() => true)
  const wrong = new Set(problems.map(problem => problem.where?.sign))
  const matters = signs.map(
    sign =>
      sign.doubt >= DOUBTFUL ||
      sign.decidedBy === "decision" ||
      sign.refused !== undefined ||
      wrong.has(sign.id) ||
      sign.kind === "mensuration" ||
      sign.kind === "proportion",
  )
  return signs.map(
    (_, at) => at < OPENING || at >= signs.length - ENDING || [at - 1, at, at + 1].some(near => matters[near]),
  )
}

function gap(shown: readonly boolean[], from: number): string[] {
  const next = shown.indexOf(true, from)
  const left = (next < 0 ? shown.length : next) - from
  return ["⋮", "", "", "", "", "", "", `${left} more without doubt (--all shows them)`]
}
