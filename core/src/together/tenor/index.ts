export * from "./types.js"
export { findRepetition } from "./find.js"
export { fellowsOf, repeatDisagreements, type Disagreement, type Disagreements } from "./disagreements.js"
