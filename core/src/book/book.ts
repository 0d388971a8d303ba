/** What a book of an edition holds, before it is laid on pages. */
import { spanText, type Page } from "../page/index.js"
import { practiceNamed } from "../practices/index.js"
import type { Reading } from "../reading/index.js"
import { notate, type Score } from "../score/index.js"
import { valuesBy, type EditionConventions } from "../edition/index.js"
import { NO_HEAD, type MeiHead } from "../formats/mei/index.js"
import { ambitusOf } from "./ambitus.js"
import { prefaceOf, type PrefaceSection } from "./preface.js"
import { DOUBT_FROM, reportOn, reportPreamble, reportSections, type ReportSection } from "./report/index.js"
import { textsOf, type VoiceText } from "./texts.js"

/** Parts of a book, in the order in which they stand. */
export const BOOK_PARTS = ["title", "contents", "preface", "score", "parts", "texts", "report"] as const
export type BookPart = (typeof BOOK_PARTS)[number]

export interface BookInput {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  readonly conventions: EditionConventions
  /** What the head of the file says; nothing for a file without one. */
  readonly head?: MeiHead
  /** Who made the edition; without it, whom the file names. */
  readonly editor?: string
  /** Doubt from which on a reading is told as open. */
  readonly doubtFrom?: number
}

export interface TitlePage {
  readonly title: string
  readonly subtitles: readonly string[]
  /** Whose music and words, as far as the file says. */
  readonly by: readonly string[]
  /** Names of the voices with their ranges, "c3–d4". */
  readonly voices: readonly { readonly name: string; readonly range: string }[]
  /** "Practice: Ars nova, c. 1320-1400", and the like: what it is and what one has to know of it. */
  readonly facts: readonly { readonly name: string; readonly value: string }[]
}

export interface Book {
  readonly titlePage: TitlePage
  readonly preface: readonly PrefaceSection[]
  readonly texts: readonly VoiceText[]
  readonly report: readonly ReportSection[]
  readonly reportPreamble: readonly string[]
  /** The score, and one for each of its voices. */
  readonly score: Score
  readonly parts: readonly Score[]
}

export function bookOf(input: BookInput): Book {
  const { page, readings, score, conventions, head = NO_HEAD, doubtFrom = DOUBT_FROM } = input
  const notated = notate(score, valuesBy(conventions))
  const report = reportOn({ page, readings, score }, notated, doubtFrom)
  return {
    titlePage: titlePageOf(input),
    preface: prefaceOf({ page, readings, score, notated, conventions, head, report, doubtFrom }),
    texts: textsOf(page),
    report: reportSections(report),
    reportPreamble: reportPreamble(doubtFrom),
    score,
    parts: score.voices.map(voice => ({ ...score, voices: [voice] })),
  }
}

const UNTITLED = "A piece without a title"

function titlePageOf({ page, readings, score, head = NO_HEAD, editor }: BookInput): TitlePage {
  const title = page.title.trim() || head.title || UNTITLED
  const editors = editor?.trim() ? [editor.trim()] : head.editors
  const practices = [...new Set(readings.map(({ practice }) => practiceNamed(practice.name)?.title ?? practice.name))]
  const facts = [
    { name: practices.length === 1 ? "Practice" : "Practices", value: practices.join("; ") },
    { name: "Date", value: head.date || (page.years?.made ? spanText(page.years.made).replace("-", "–") : "") },
    { name: head.sources.length > 1 ? "Sources" : "Source", value: head.sources.join("\n") },
    { name: editors.length > 1 ? "Editors" : "Editor", value: editors.join("\n") },
  ]
  return {
    title,
    subtitles: head.subtitles.filter(one => one !== title),
    by: [...head.composers.map(name => name), ...head.poets.map(name => `Words: ${name}`)],
    voices: score.voices.map(voice => ({ name: voice.label || voice.n, range: rangeText(ambitusOf(voice)) })),
    facts: facts.filter(({ value }) => value !== ""),
  }
}

type Range = ReturnType<typeof ambitusOf>
const SIGNS: Readonly<Record<string, string>> = { f: " flat ", s: " sharp " }
/** "g3–e5", "g3–b flat 4": the typefaces have no accidentals. */
function rangeText(range: Range): string {
  if (!range) return ""
  const [low, high] = [range.lowest, range.highest].map(
    ({ step, accidental, octave }) => `${step}${SIGNS[accidental] ?? ""}${octave}`,
  )
  return low === high ? low! : `${low}–${high}`
}
