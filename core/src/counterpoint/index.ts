export { intervalOf, tonesOf, type Tone } from "./motion.js"
export { adaptedTo, concordsAlike, tempered, Heard, OWN_SOUND_AFTER } from "./own.js"
export { counterpointOf, INTERVAL_KINDS, kindOfInterval, MISSED_MEETING, TEMPER } from "./weights.js"
export type {
  CounterpointWeights,
  CostsByStrength,
  IntervalCosts,
  IntervalKind,
  PairWeights,
  Strength,
} from "./weights.js"
