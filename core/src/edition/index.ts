export {
  CLEF_NAMES,
  clefFor,
  clefNamed,
  pitchAt,
  USUAL_CLEFS,
  type ClefConventions,
  type ClefName,
  type ModernClef,
} from "./clefs.js"
export {
  CONVENTIONS,
  conventionsWith,
  USUAL_CONVENTIONS,
  type Convention,
  type ConventionChoice,
  type ConventionName,
  type EditionConventions,
} from "./conventions.js"
export { HOUSE_STYLES, styleNamed, type HouseStyle } from "./styles.js"
export { barsFor, notatedBy, valuesBy } from "./notated.js"
export { conventionsInWords } from "./words.js"
