export { limiterGains, limiterMargin } from "./limiter.js"
export { loudnessMeter, type LoudnessMeter } from "./loudness.js"
export { MIX_LOUDNESS, mixDown, type Mix, type MixSource, type Stems, type Stereo } from "./mix.js"
export { toneRenderer, type ToneRenderer } from "./tone.js"
