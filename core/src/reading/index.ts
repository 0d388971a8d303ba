export * from "./types.js"
export { readPage, readVoice, rereadVoice } from "./read-voice.js"
export { explainLong, explainRule, explainShort, sourceOf } from "./explain.js"
export type { Assumed, ReadOptions } from "./settings.js"
