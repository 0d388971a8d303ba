export { acceptFicta, refuseFicta, type AccidentalChoice, type DecidedAs } from "./decide.js"
export { proposalsUpTo, withFicta } from "./apply.js"
export { proposeFicta } from "./propose.js"
export { alikeFicta, fictaSummary, tellFicta, tellOpenFicta, type FictaOpenTold, type FictaTold } from "./tell.js"
export { sourceOf as sourceOfFicta } from "./reasons.js"
export {
  FICTA_GRADES,
  FICTA_RULES,
  type Ficta,
  type FictaCause,
  type FictaGrade,
  type FictaOpen,
  type FictaProposal,
  type FictaRule,
} from "./types.js"
