export { csvCannotCarry } from "./losses.js"
export { CSV_COLUMNS, readingsCsv } from "./write.js"
