export {
  engraveWith,
  type EngraveOptions,
  type EngraverToolkit,
  type Engraving,
  type ScoreInSystems,
} from "./engrave.js"
export { readEngraved, scoreSvg, type EngravedScore, type ScoreLook } from "./compose.js"
export { prefatoryRoom } from "./prefatory-system.js"
export { SHOWN, SPACE } from "./sheet.js"
export type { Extent, SystemStaff } from "./extents.js"
export type { EngravedSystem } from "./systems.js"
export type { SvgNode } from "./svg-tree.js"
export { ROOM_LETTER, engraverFonts, roomText, type EngraverFont } from "./typeface.js"
export { readOutline } from "./outline.js"
export { spread } from "./spread.js"
