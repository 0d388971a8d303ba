export { drawTime, drawTimeSheets } from "./time.js"
export type { TimeOptions } from "./options.js"
export type { TimeInput } from "./timeline.js"
