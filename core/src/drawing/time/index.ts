export {
  drawTime,
  drawTimeSheets,
  layTime,
  layTimeSheets,
  type LaidSystem,
  type LaidTime,
  type LaidTimeSheet,
} from "./time.js"
export { momentAt, xOfMoment, type MomentPlace, type PlacedMoment } from "./moments.js"
export { askedOver, soundingOver } from "./over.js"
export type { TimeOptions } from "./options.js"
export type { TimeInput } from "./timeline.js"
