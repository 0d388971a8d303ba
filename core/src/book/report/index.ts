export { criticalReport, reportOn, DOUBT_FROM, type ReportInput, type ReportOptions } from "./report.js"
export { REPORT_KINDS, type ReportEntry, type ReportKind } from "./types.js"
export {
  REPORT_COLUMNS,
  columnsFor,
  doubtText,
  reportCsv,
  reportMarkdown,
  reportPlace,
  reportPreamble,
  reportSections,
  reportSentence,
  reportText,
  type ReportForm,
  type ReportSection,
} from "./forms.js"
