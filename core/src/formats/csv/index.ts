export { csvCannotCarry } from "./losses.js"
export { CSV_COLUMNS, csvRow, readingsCsv, type CsvOptions } from "./write.js"
