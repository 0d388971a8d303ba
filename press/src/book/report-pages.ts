/** The critical report in a book: a table for each kind of line. */
import { columnsFor, doubtText, type ReportEntry, type ReportSection } from "@resolutio/core"
import type { Sheets } from "./sheets.js"
import { TYPES } from "./style.js"
import { writeTable, type Column } from "./table.js"

const NOTHING = "There is nothing to report: nothing was emended, supplied or decided, and no reading is open."

export function writeReport(sheets: Sheets, preamble: readonly string[], sections: readonly ReportSection[]): void {
  sheets.heading("Critical report", TYPES.section, "H1", { after: 6 })
  for (const text of preamble) sheets.paragraph(text, TYPES.text)
  if (sections.length === 0) sheets.paragraph(NOTHING, TYPES.text)
  for (const { kind, heading, about, entries } of sections) {
    sheets.heading(heading, TYPES.heading, "H2", { after: 2, keep: 80 })
    sheets.paragraph(about, TYPES.note, { after: 5 })
    const columns = columnsOf(kind)
    writeTable(
      sheets,
      columns,
      entries.map(entry => columns.map(column => column.text(entry))),
    )
  }
}

interface ReportColumn extends Column {
  readonly text: (entry: ReportEntry) => string
}

/** What the source has and what stands here side by side, or only the one where a heading says the other; the reason in what is left. */
function columnsOf(kind: ReportEntry["kind"]): ReportColumn[] {
  const { table, figures } = TYPES
  const [source, edition] = columnsFor(kind) ?? []
  const here = (name: string, part: number): ReportColumn => ({ name, part, type: table, text: one => one.edition })
  const there = (name: string): ReportColumn => ({ name, part: 16, type: table, text: one => one.source })
  const middle = source && edition ? [there(source), here(edition, 16)] : kind === "parting" ? [] : [here("Here", 32)]
  const rest = kind === "parting" ? { name: "What", part: 72 } : { name: "Why, and by whom", part: 40 }
  return [
    { name: "Bar", part: 6.5, type: figures, text: one => one.bar },
    { name: "Voice", part: 14, type: table, text: one => one.voice },
    { name: "No.", part: 7.5, type: figures, text: one => one.number },
    ...middle,
    { ...rest, type: table, text: whyText },
  ]
}

/** The reason, who it is from, how doubtful it is, and where on the page it stands. */
function whyText({ why, who, place, doubt }: ReportEntry): string {
  const said = why === "" || /[.!?)”]$/.test(why) ? why : `${why}.`
  const parts = [
    said.charAt(0).toUpperCase() + said.slice(1),
    who === "" ? "" : `${who}.`,
    doubt === undefined ? "" : `Doubt ${doubtText(doubt)}.`,
    place === "" ? "" : `[${place}]`,
  ]
  return parts.filter(Boolean).join(" ")
}
