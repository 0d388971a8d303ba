/** Scores and books as they are printed. */
export { ambitusOf, type Ambitus } from "./ambitus.js"
export * from "./engraved/index.js"
export { prefatoryStaves, type PrefatoryOptions, type PrefatoryStaff, type PrefatoryStaves } from "./prefatory.js"
