export * from "./types.js"
export { readPage, readVoice } from "./read-voice.js"
export type { ReadOptions } from "./settings.js"
