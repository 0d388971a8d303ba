/** The public list, name by name. `cli` and `web` import only this. */
export { compare, equals, fromText, minus, over, plus, ratio, times, toNumber, toText } from "./base/index.js"
export type { Problem, ProblemPlace, Rational, Result, SignId, VoiceId } from "./base/index.js"
export { ABBREVIATIONS, LEVELS } from "./page/index.js"
export type { Level, Note, Page, Pitch, Rest, Sign, Voice } from "./page/index.js"
export type {
  MensurationSpan,
  PracticeChoice,
  Quality,
  Reading,
  SignReading,
  SignRival,
  Unit,
  VoiceRival,
} from "./reading/types.js"
