/** A critical report as text for a terminal, as Markdown and as a table for spreadsheets. */
import { csvRow } from "../../formats/csv/index.js"
import { REPORT_KINDS, type ReportEntry, type ReportKind } from "./types.js"

export interface ReportSection {
  readonly kind: ReportKind
  readonly heading: string
  /** What the lines of the section have in common. */
  readonly about: string
  readonly entries: readonly ReportEntry[]
}

const HEADINGS: Readonly<Record<ReportKind, readonly [heading: string, about: string]>> = {
  emendation: ["Emendations", "The source has something else here."],
  supplied: ["Supplied", "The source has nothing here."],
  found: ["Mensurations found", "The source has no sign; they were inferred from the notes and the other voices."],
  unclear: ["Hard to read", "This is what the source was taken to have."],
  reading: ["Other readings", "Another source or another hand has something else."],
  decision: ["Decisions", "The signs stand as in the source; an editor decided how they are read."],
  open: ["Readings kept open", "The rules and the other voices allow something else as well."],
  parting: ["What did not come out", "The voices do not meet, or the page has what the reading could not explain."],
}

/** The sections that have lines, in order. */
export function reportSections(entries: readonly ReportEntry[]): ReportSection[] {
  return REPORT_KINDS.map(kind => {
    const [heading, about] = HEADINGS[kind]
    return { kind, heading, about, entries: entries.filter(entry => entry.kind === kind) }
  }).filter(section => section.entries.length > 0)
}

/** How a report is to be read, with the doubt from which on a reading is kept open. */
export function reportPreamble(doubtFrom: number): string[] {
  return [
    "Bars are those of the score. Notes and rests are counted from 1 in each voice, those of a ligature singly. Levels go by the names of the original notes, whatever they last.",
    `A reading is kept open where its doubt is ${doubtFrom} or more; doubt is twice the estimated chance that a duration is wrong, so 0 is sure and 1 a coin toss.`,
  ]
}

/** "The source has minima c4; here semibrevis c4." */
export function reportSentence({ kind, source, edition, why, who, doubt }: ReportEntry): string {
  const said: Record<ReportKind, string> = {
    emendation: `The source has ${source}; here ${edition}.`,
    supplied: `Supplied: ${edition}.`,
    found: `Read in ${edition} (doubt ${doubt === undefined ? "unknown" : doubtText(doubt)}).`,
    unclear: `Hard to read; taken for ${edition}.`,
    reading: `Here ${edition}; ${source}.`,
    decision: `Decided: ${source}: ${edition}.`,
    open: `Open (doubt ${doubt === undefined ? "unknown" : doubtText(doubt)}): ${source}, read as ${edition}.`,
    parting: "",
  }
  return [said[kind], sentence(why), who === "" ? "" : `(${who})`].filter(Boolean).join(" ")
}
export const doubtText = (doubt: number): string => (doubt < 0.005 ? "0" : doubt.toFixed(2))
/** What a person wrote in a few words, as a sentence. */
function sentence(text: string): string {
  const said = text.trim()
  const begun = said.charAt(0).toUpperCase() + said.slice(1)
  return said === "" || /[.!?)”]$/.test(said) ? begun : `${begun}.`
}

/** "bar 12, tenor 5 (f. 3v, staff 2, sign 7)". */
export function reportPlace({ bar, voice, number, place }: ReportEntry): string {
  const bars = bar === "" ? "" : `bar${bar.includes("–") ? "s" : ""} ${bar}`
  const head = [bars, [voice, number].filter(Boolean).join(" ")].filter(Boolean).join(", ")
  if (place === "") return head
  return head === "" ? place : `${head} (${place})`
}

export interface ReportForm {
  readonly title: string
  readonly doubtFrom: number
}
const NONE = "There is nothing to report: nothing was emended, supplied or decided, and no reading is open."

/** Lines end in "\n", the last one too. */
export function reportText(entries: readonly ReportEntry[], { title, doubtFrom }: ReportForm): string {
  const sections = reportSections(entries).map(({ heading, about, entries: own }) => {
    const lines = own.map(entry => `  ${reportPlace(entry) || "the piece as a whole"}\n    ${reportSentence(entry)}`)
    return `${heading}. ${about}\n\n${lines.join("\n")}`
  })
  const body = sections.length > 0 ? sections.join("\n\n") : NONE
  return `${headline(title)}\n\n${reportPreamble(doubtFrom).join("\n")}\n\n${body}\n`
}
const headline = (title: string): string => (title.trim() === "" ? "Critical report" : `Critical report: ${title}`)

const COLUMNS: Readonly<Partial<Record<ReportKind, readonly [string, string]>>> = {
  emendation: ["The source has", "Here"],
  reading: ["Elsewhere", "Here"],
  decision: ["Sign", "Read as"],
  open: ["Sign", "Read as"],
}
/** Names of the columns "source" and "edition" of a table of such lines; undefined where a sentence says it all. */
export const columnsFor = (kind: ReportKind): readonly [string, string] | undefined => COLUMNS[kind]

export function reportMarkdown(entries: readonly ReportEntry[], { title, doubtFrom }: ReportForm): string {
  const sections = reportSections(entries).map(section => {
    const [source, edition] = COLUMNS[section.kind] ?? ["Source", "Here"]
    const head = [
      "Bar",
      "Voice",
      "Number",
      "Place",
      source,
      edition,
      "Why",
      "Who",
      ...(section.kind === "open" ? ["Doubt"] : []),
    ]
    const rows = section.entries.map(entry => [
      entry.bar,
      entry.voice,
      entry.number,
      entry.place,
      entry.source,
      entry.edition,
      entry.why,
      entry.who,
      ...(section.kind === "open" ? [doubtText(entry.doubt ?? 0)] : []),
    ])
    const table = [head, head.map(() => "---"), ...rows].map(row => `| ${row.map(markdownCell).join(" | ")} |`)
    return `## ${section.heading}\n\n${section.about}\n\n${table.join("\n")}`
  })
  const body = sections.length > 0 ? sections.join("\n\n") : NONE
  return `# ${inMarkdown(headline(title))}\n\n${reportPreamble(doubtFrom).join(" ")}\n\n${body}\n`
}

/** What a file says stays text: no mark of it means anything to a reader of Markdown. */
const inMarkdown = (text: string): string =>
  text.replace(/[\r\n]+/g, " ").replace(/[\\`*_[\]<>#|~&]/g, one => `\\${one}`)
const markdownCell = (text: string): string => (text === "---" ? text : inMarkdown(text) || " ")

export const REPORT_COLUMNS = [
  "kind",
  "bar",
  "voice",
  "number",
  "place",
  "id",
  "source",
  "edition",
  "why",
  "who",
  "doubt",
] as const

/** By RFC 4180; lines end in CR LF, the last one too. */
export function reportCsv(entries: readonly ReportEntry[]): string {
  const rows = entries.map(entry => [
    entry.kind,
    entry.bar,
    entry.voice,
    entry.number,
    entry.place,
    entry.sign ?? "",
    entry.source,
    entry.edition,
    entry.why,
    entry.who,
    entry.doubt === undefined ? "" : String(Math.round(entry.doubt * 1000) / 1000),
  ])
  return [[...REPORT_COLUMNS], ...rows].map(csvRow).join("")
}
