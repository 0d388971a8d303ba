/** A plain sine tone for each sound, exact to the sample: for measuring, and where there is no bank. */
import type { VoiceId } from "../../base/index.js"
import type { Sound } from "../types.js"

/** Renders one voice after another piece by piece; `at` counts samples from the beginning. */
export interface ToneRenderer {
  /** Adds to `into` what the voice sounds from sample `at` on. Pieces of a voice are to be asked for in order. */
  add(voice: VoiceId | null, into: Float32Array, at: number): void
}

/** In seconds; short enough for a beginning that can be measured to a millisecond, long enough not to click. */
const RISE = 0.002
const FALL = 0.02
const AMPLITUDE = 0.25

export function toneRenderer(sounds: readonly Sound[], sampleRate: number): ToneRenderer {
  const byVoice = new Map<VoiceId | null, Sound[]>()
  for (const sound of sounds) {
    const own = byVoice.get(sound.voice)
    if (own) own.push(sound)
    else byVoice.set(sound.voice, [sound])
  }
  const next = new Map<VoiceId | null, number>()
  return {
    add(voice, into, at) {
      const own = byVoice.get(voice) ?? []
      let n = next.get(voice) ?? 0
      // What has died away before this piece will not be asked for again.
      while (own[n] && (own[n]!.end + FALL) * sampleRate < at) n++
      next.set(voice, n)
      for (; own[n] && own[n]!.start * sampleRate < at + into.length; n++) addTone(own[n]!, into, at, sampleRate)
    },
  }
}

function addTone({ start, end, hertz, velocity }: Sound, into: Float32Array, at: number, rate: number): void {
  const first = Math.max(0, Math.ceil(start * rate - at))
  const last = Math.min(into.length, Math.ceil((end + FALL) * rate - at))
  const strength = AMPLITUDE * (velocity / 96)
  // A pointer that turns: exact enough within one piece, and quicker than a sine for each sample.
  const turn = (2 * Math.PI * hertz) / rate
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const begin = 2 * Math.PI * hertz * ((at + first) / rate - start)
  let [x, y] = [Math.cos(begin), Math.sin(begin)]
  for (let i = first; i < last; i++) {
    const seconds = (at + i) / rate - start
    const left = end + FALL - (at + i) / rate
    const rise = seconds < RISE ? bend(seconds / RISE) : 1
    const fall = left < FALL ? bend(left / FALL) : 1
    into[i] = into[i]! + strength * rise * fall * y
    const turned = x * c - y * s
    y = x * s + y * c
    x = turned
  }
}

/** From 0 to 1 without a corner. */
const bend = (part: number): number => (1 - Math.cos(Math.PI * part)) / 2
