export { csvRow } from "../csv-text.js"
export { csvCannotCarry } from "./losses.js"
export { CSV_COLUMNS, readingsCsv, type CsvOptions } from "./write.js"
