/** The old page, drawn. */
export { drawPage, drawSheets, layPage, type LaidPage } from "./page.js"
export { undrawnIn } from "./describe.js"
export type { PageOptions } from "./options.js"
export { drawIncipit, type Incipit, type IncipitOptions } from "./incipit.js"
