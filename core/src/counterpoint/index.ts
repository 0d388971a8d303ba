export { counterpointOf, kindOfInterval, MISSED_MEETING } from "./weights.js"
export type {
  CounterpointWeights,
  CostsByStrength,
  IntervalCosts,
  IntervalKind,
  PairWeights,
  Strength,
} from "./weights.js"
