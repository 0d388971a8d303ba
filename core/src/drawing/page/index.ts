/** The old page, drawn. */
export { drawPage, drawSheets } from "./page.js"
export type { PageOptions } from "./options.js"
