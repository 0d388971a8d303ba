export { counterpointOf, kindOfInterval, MISSED_MEETING } from "./weights.js"
export type { CounterpointWeights, IntervalCosts, IntervalKind, Strength } from "./weights.js"
