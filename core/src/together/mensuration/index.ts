export { assumedFor, findMensurations, type FindOptions } from "./find.js"
export { levelInWords, mensurationInWords } from "./words.js"
export * from "./types.js"
export { suppliedLevels, supplyFound } from "./supply.js"
