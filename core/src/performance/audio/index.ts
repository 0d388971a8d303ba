export { limiterGains, limiterMargin } from "./limiter.js"
export { loudnessMeter, type LoudnessMeter } from "./loudness.js"
export { toneRenderer, type ToneRenderer } from "./tone.js"
