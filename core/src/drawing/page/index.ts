/** The old page, drawn. */
export { drawPage, drawSheets } from "./page.js"
export { undrawnIn } from "./describe.js"
export type { PageOptions } from "./options.js"
