export { FADE } from "./articulation.js"
export { clockOf, secondsAt, secondsPerUnitAt, unitsAt, type Clock, type ClockStretch, type Hold } from "./clock.js"
export {
  EQUIVALENCE_RULES,
  equivalenceSentences,
  equivalencesOf,
  fasterBy,
  type EquivalenceDecision,
  type EquivalenceRule,
  type EquivalenceTaken,
} from "./equivalence.js"
export { excerpt, inSequence, isWithin, rivalsInTurn, tactusSeconds, withCountIn, type Excerpt } from "./excerpt.js"
export { EQUIVALENCES, TEMPO_VALUES, TIMBRES, type Equivalence, type TempoValue, type Timbre } from "./names.js"
export { perform, type PerformanceOptions } from "./perform.js"
export { fifthsOf, intervalFrom, type Interval } from "./spelling.js"
export {
  TEMPO_RANGES,
  rangesFor,
  tactusOf,
  tempoTaken,
  valueIn,
  type Lengths,
  type Tempo,
  type TempoRange,
  type TempoTaken,
} from "./tempo.js"
export { PROGRAMS, synthScript, type SynthMessage, type SynthOptions, type SynthScript } from "./synth.js"
export { MIX_LOUDNESS, limiterGains, limiterMargin, loudnessMeter, mixDown, toneRenderer } from "./audio/index.js"
export type { LoudnessMeter, Mix, MixSource, Stems, Stereo, ToneRenderer } from "./audio/index.js"
export { MEANTONE_FROM, tuningChosen, tuningDefault, type TuningDefault } from "./tuning-default.js"
export {
  TUNINGS,
  parseTuning,
  tunerOf,
  tuningTitle,
  untuned,
  type Tuner,
  type Tuning,
  type TuningName,
  type TuningOptions,
  type TuningTable,
} from "./tuning.js"
export type { Passage, Performance, Sound } from "./types.js"
export {
  onlyVoice,
  performedVoices,
  placeOf,
  practising,
  type PerformedVoice,
  type VoiceSound,
  type VoiceWishes,
} from "./voices.js"
