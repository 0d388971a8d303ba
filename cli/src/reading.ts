/** The options that every command with a reading shares, and the reading by them. */
import type { Command } from "commander"
import {
  findVoice,
  readApart,
  readTogether,
  type Page,
  type Problem,
  type Reading,
  type ReadOptions,
  type Result,
} from "@resolutio/core"
import { either } from "./messages.js"
import { parsePractice } from "./practice.js"

export interface ReadingFlags {
  readonly practice?: string
  readonly ignoreGiven?: boolean
  readonly alone?: boolean
}

export function withReadingOptions(command: Command): Command {
  return command
    .option("--practice <name[:option=value,…]>", "read by this practice the voices of which the file does not say it")
    .option("--ignore-given", "leave out the durations and dot meanings that the file states in words")
    .option("--alone", "read each voice by itself, borrowing nothing from the others")
}

/** Flags as the core takes them; a practice that is not known is a problem. */
export function readOptions(flags: ReadingFlags): Result<ReadOptions> {
  const ignoreGiven = flags.ignoreGiven ?? false
  if (flags.practice === undefined) return { ok: true, value: { ignoreGiven }, problems: [] }
  const practice = parsePractice(flags.practice)
  if (!practice.ok) return practice
  return { ok: true, value: { ignoreGiven, practice: practice.value }, problems: [] }
}

/** A page and its readings, in the page's order. */
export interface PageRead {
  readonly page: Page
  readonly readings: readonly Reading[]
}

/** All voices read together, or with `alone` each by itself. */
export function readWith(page: Page, options: ReadOptions, alone = false): PageRead {
  if (!alone) return { page, readings: readTogether(page, options).readings }
  return { page, readings: readApart(page, options) }
}

/** Only the voices named (by label in any case, or by number); all when none is named. */
export function chooseVoices({ page, readings }: PageRead, wanted: readonly string[]): Result<readonly Reading[]> {
  const missing = wanted.find(name => !findVoice(page, name))
  if (missing !== undefined) return noSuchVoice(missing, page)
  const chosen = new Set(wanted.map(name => findVoice(page, name)?.id))
  return { ok: true, value: wanted.length > 0 ? readings.filter(one => chosen.has(one.voice)) : readings, problems: [] }
}

function noSuchVoice(name: string, page: Page): Result<readonly Reading[]> {
  const problem: Problem = {
    code: "no-such-voice",
    what: `There is no voice “${name}”.`,
    where: { place: "--voice" },
    mend: `The voices are ${either(page.voices.map(one => (one.label === one.n ? one.n : `${one.label} (${one.n})`)))}.`,
    severity: "error",
  }
  return { ok: false, problems: [problem] }
}

/** What there is in place of a sign that is not there. */
export function noSuchSign(place: string, { page, readings }: PageRead): Problem {
  const voices = readings.map(one => `${one.label} ${numbersIn(one)}`)
  return {
    code: "no-such-sign",
    what: `There is no sign “${place}” in ${page.title ? `“${page.title}”` : "this piece"}.`,
    mend: `Name a voice and the number of a note or rest in it (${voices.join("; ")}), or an xml:id.`,
    severity: "error",
  }
}

/** "1 to 12": how the notes and rests of a voice are numbered. */
function numbersIn({ signs }: Reading): string {
  const last = signs.findLast(sign => sign.number > 0)
  return last ? `1 to ${last.number}` : "has none"
}
