/** A performance as samples: each voice by itself, piece after piece; kept in memory where it is to be mixed more than once. */
import {
  mixDown,
  pcm16,
  wavHeader,
  type Mix,
  type MixSource,
  type Performance,
  type Stems,
  type VoiceId,
} from "@resolutio/core"
import { joined } from "../bytes.js"
import { sourcesOf, type Bank } from "./sources.js"

/** In hertz: what everything can play. */
export const RATE = 44_100
/** Seconds in which the last tones may ring on. */
const RING = 0.5
/** So many frames at a time. */
export const PIECE = 8192

/** Waits, says how far it is, or throws to end the work. */
export type Rest = (part: number) => Promise<void> | void

export interface Rendering {
  readonly frames: number
  /** Null is the count-in; it is there where something is counted. */
  readonly voices: readonly (VoiceId | null)[]
  /** Once, from the beginning; the arrays are new each time. */
  readonly pieces: Generator<{ readonly stems: Stems; readonly at: number }>
}

export async function renderingOf(performance: Performance, rate: number, bank: Bank): Promise<Rendering> {
  const counted = performance.sounds.some(one => one.voice === null)
  const voices = [...(counted ? [null] : []), ...performance.voices.map(one => one.id)]
  const frames = Math.ceil((performance.duration + RING) * rate)
  const sources = await sourcesOf(performance, rate, bank)
  const pieces = function* () {
    for (let at = 0; at < frames; at += PIECE) {
      const stems = new Map(voices.map(voice => [voice, new Float32Array(Math.min(PIECE, frames - at))]))
      for (const source of sources) source.add(stems, at)
      yield { stems, at }
    }
  }
  return { frames, voices, pieces: pieces() }
}

/** Bytes up to which voices are kept as they are; larger pieces are kept in half the room, with a noise of -52 dB. */
const ROOM = 400_000_000

type KeptSamples = Float32Array | Int16Array

/** The voices in memory, to be mixed as often as one likes. */
export async function renderedInMemory(
  performance: Performance,
  rate: number,
  bank: Bank,
  rest: Rest,
): Promise<MixSource> {
  const { frames, voices, pieces } = await renderingOf(performance, rate, bank)
  const isLarge = 4 * frames * voices.length > ROOM
  const kept = new Map(voices.map(voice => [voice, isLarge ? new Int16Array(frames) : new Float32Array(frames)]))
  for (const { stems, at } of pieces) {
    for (const [voice, samples] of stems) keep(kept.get(voice)!, samples, at)
    const pause = rest(at / frames)
    if (pause) await pause
  }
  return { rate, frames, pieces: () => keptPieces(kept, frames) }
}

/** No voice of the bank comes near to twice full scale. */
const HEADROOM = 2

function keep(into: KeptSamples, samples: Float32Array, at: number): void {
  if (into instanceof Float32Array) return into.set(samples, at)
  for (let i = 0; i < samples.length; i++)
    into[at + i] = Math.max(-32_768, Math.min(32_767, Math.round((samples[i]! / HEADROOM) * 32_767)))
}

function* keptPieces(kept: ReadonlyMap<VoiceId | null, KeptSamples>, frames: number): Generator<Stems> {
  for (let at = 0; at < frames; at += PIECE) {
    const end = Math.min(frames, at + PIECE)
    const part = (samples: KeptSamples): Float32Array =>
      samples instanceof Float32Array
        ? samples.subarray(at, end)
        : Float32Array.from(samples.subarray(at, end), one => (one / 32_767) * HEADROOM)
    yield new Map([...kept].map(([voice, samples]) => [voice, part(samples)]))
  }
}

/** A mix as a WAV file: 16 bits, stereo. */
export async function wavOf(mix: Mix, source: MixSource, rest: Rest): Promise<Uint8Array> {
  const parts: Uint8Array[] = [wavHeader({ frames: source.frames, rate: source.rate, channels: 2 })]
  await mixDown(mix, source, ({ left, right }) => void parts.push(pcm16([left, right])), rest)
  return joined(parts)
}
