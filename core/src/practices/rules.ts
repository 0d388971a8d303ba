/** The rules that all practices of measured music share; each factory takes the practice's own sources. */
export { similisAnteSimilem, numberComplete, nothingActs, punctusPerfectionis } from "./whole.js"
export {
  imperfectioAbUtraqueParte,
  imperfectioAdPartem,
  imperfectioAdTotumEtPartem,
  imperfectioAParteAnte,
  imperfectioAPartePost,
} from "./imperfection.js"
export { alteratio, alteratioEtImperfectio } from "./alteration.js"
export { asWritten, pausaManet, punctusAdditionis, syncopatio } from "./counting.js"
