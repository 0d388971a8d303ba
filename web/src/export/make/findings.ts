/** What was found about a piece: the critical report, and the answers of the command line as JSON. */
import {
  chooseTenor,
  criticalReport,
  findMensurations,
  findRepetition,
  fictaJson,
  fitJson,
  fitsUnder,
  mensurationJson,
  propose,
  proposeFicta,
  reportCsv,
  reportMarkdown,
  reportText,
  tenorJson,
  type Progress,
  type ReportEntry,
  type ReportForm,
} from "@resolutio/core"
import type { Format, Known } from "../formats.js"
import { voicesWished } from "./passage.js"

function report(write: (entries: readonly ReportEntry[], form: ReportForm) => string): Format["make"] {
  return ({ page, readings, score, wishes: { doubt: doubtFrom } }) =>
    write(criticalReport({ page, readings, score }, { doubtFrom }), { title: page.title, doubtFrom })
}

const json = (object: unknown): string => `${JSON.stringify(object, null, 2)}\n`
const answer = (what: string, make: (piece: Known) => unknown): Format => ({
  ending: `.${what}.json`,
  type: "application/json",
  make: piece => json(make(piece)),
})

function tenor({ page, readings, wishes }: Known): unknown {
  const usual = chooseTenor(page, readings)
  const chosen = wishes.voices.length > 0 ? voicesWished(readings, wishes) : usual ? [usual] : []
  const voices = chosen.map(reading => ({ reading, repetition: findRepetition(page, reading) }))
  return tenorJson(page, voices, [])
}

function fit({ page, told }: Known): unknown {
  const onProgress = ({ done, of }: Progress): void => told(of > 0 ? Math.min(1, done / of) : 0)
  return fitJson(page, propose(page, { onProgress })!, [])
}

function mensuration({ page }: Known): unknown {
  const wanted = { evidence: true }
  const found = findMensurations(page, wanted)
  return mensurationJson(page, found, fitsUnder(page, found, wanted), [])
}

export const FINDINGS = {
  reportMd: { ending: ".report.md", type: "text/markdown", make: report(reportMarkdown) },
  reportTxt: { ending: ".report.txt", type: "text/plain", make: report(reportText) },
  reportCsv: { ending: ".report.csv", type: "text/csv", make: report(entries => reportCsv(entries)) },
  fit: answer("fit", fit),
  mensuration: answer("mensuration", mensuration),
  tenor: answer("tenor", tenor),
  ficta: answer("ficta", ({ page, score }) => fictaJson(page, score, proposeFicta(page, score), [])),
} as const satisfies Record<string, Format>
