/** Voices mixed to stereo, brought to one loudness and under a peak; piece by piece, so that a long piece need not fit into memory. */
import type { VoiceId } from "../../base/index.js"
import type { PerformedVoice } from "../voices.js"
import { limiterGains, limiterMargin } from "./limiter.js"
import { loudnessMeter, type LoudnessMeter } from "./loudness.js"

/** In LUFS: as loud as a quiet broadcast, well under music that is sold. */
export const MIX_LOUDNESS = -18
/** No sample is above this; between samples a player may come a little higher. */
const CEILING = 10 ** (-2 / 20)

/** What each voice sounds in one stretch of time; null is the count-in. All have one length. */
export type Stems = ReadonlyMap<VoiceId | null, Float32Array>

export interface Stereo {
  readonly left: Float32Array
  readonly right: Float32Array
}

/** Which voices are heard, and how loud. */
export interface Mix {
  readonly voices: readonly PerformedVoice[]
  /** By the gain that brings these to the usual loudness; without it by its own. */
  readonly asLoudAsIn?: readonly PerformedVoice[]
}

export interface MixSource {
  /** In hertz. */
  readonly rate: number
  /** Of all pieces together. */
  readonly frames: number
  /** One after the other from the beginning, each time anew; the arrays may be filled again. */
  readonly pieces: () => Iterable<Stems>
}

/** A stereo signal that can be gone through more than once, piece by piece. */
type Signal = () => Iterable<Stereo>

/**
 * Gives the mix to `take`, piece by piece; pieces need not be those of the source. `rest` is called after each with the part of the
 * work that is done, 0 to 1, and waited for: there one may breathe, or throw to end the work.
 */
export async function mixDown(
  mix: Mix,
  source: MixSource,
  take: (piece: Stereo) => void,
  rest: (part: number) => Promise<void> | void,
): Promise<void> {
  const half = (before: number) => (part: number) => rest(before + part / 2)
  const signal = mixed(mix.voices, source)
  const own = await measured(signal, source, half(0))
  const reference = mix.asLoudAsIn ? await measured(mixed(mix.asLoudAsIn, source), source, half(0)) : own
  const gain = gainFor(reference)
  const loud = mixed(mix.voices, source, gain)
  const scaled = gain * own.peak() > CEILING ? limited(loud, source.rate) : loud
  await eachPiece(scaled, source.frames, half(0.5), take)
}

async function measured(
  signal: Signal,
  { rate, frames }: MixSource,
  rest: (part: number) => Promise<void> | void,
): Promise<LoudnessMeter> {
  const meter = loudnessMeter(rate)
  await eachPiece(signal, frames, rest, ({ left, right }) => meter.add(left, right))
  return meter
}

/** What is too short or too soft to have a loudness is brought to a low peak; silence stays silence. */
function gainFor(meter: LoudnessMeter): number {
  const [loudness, peak] = [meter.loudness(), meter.peak()]
  if (Number.isFinite(loudness)) return 10 ** ((MIX_LOUDNESS - loudness) / 20)
  return peak > 0 ? 0.1 / peak : 1
}

async function eachPiece(
  signal: Signal,
  frames: number,
  rest: (part: number) => Promise<void> | void,
  act: (piece: Stereo) => void,
): Promise<void> {
  let done = 0
  for (const piece of signal()) {
    act(piece)
    done += piece.left.length
    const pause = rest(done / frames)
    // what has not to wait goes on at once: pieces are many
    if (pause) await pause
  }
}

/** Each voice at its level and place, left and right together always as strong. The count-in goes with them. */
function mixed(voices: readonly PerformedVoice[], { pieces }: MixSource, gain = 1): Signal {
  const heard = voices
    .filter(voice => voice.heard)
    .map(({ id, level, place }) => ({ id, ...sides(level, place, gain) }))
  const all: (Sides & { id: VoiceId | null })[] = [{ id: null, ...sides(-6, 0, gain) }, ...heard]
  return function* () {
    for (const stems of pieces()) {
      const length = [...stems.values()][0]?.length ?? 0
      const [left, right] = [new Float32Array(length), new Float32Array(length)]
      for (const voice of all) {
        const samples = stems.get(voice.id)
        if (samples) addAt(left, right, samples, voice)
      }
      yield { left, right }
    }
  }
}

interface Sides {
  readonly toLeft: number
  readonly toRight: number
}

function addAt(left: Float32Array, right: Float32Array, samples: Float32Array, { toLeft, toRight }: Sides): void {
  for (let i = 0; i < samples.length; i++) {
    const one = samples[i]!
    left[i] = left[i]! + toLeft * one
    right[i] = right[i]! + toRight * one
  }
}

function sides(level: number, place: number, gain: number): Sides {
  const strength = gain * 10 ** (level / 20)
  const angle = ((Math.max(-1, Math.min(1, place)) + 1) * Math.PI) / 4
  return { toLeft: strength * Math.cos(angle), toRight: strength * Math.sin(angle) }
}

/** Pieces go through the limiter with what stands before and after them. */
function limited(signal: Signal, rate: number): Signal {
  const margin = limiterMargin(rate)
  const nothing = { left: new Float32Array(margin), right: new Float32Array(margin) }
  return function* () {
    let waiting = nothing
    for (const piece of signal()) {
      const whole = { left: joined(waiting.left, piece.left), right: joined(waiting.right, piece.right) }
      yield* withGains(whole, margin, rate)
      const from = Math.max(0, whole.left.length - 2 * margin)
      waiting = { left: whole.left.slice(from), right: whole.right.slice(from) }
    }
    const last = { left: joined(waiting.left, nothing.left), right: joined(waiting.right, nothing.right) }
    yield* withGains(last, margin, rate)
  }
}

function* withGains({ left, right }: Stereo, margin: number, rate: number) {
  const gains = limiterGains(left, right, CEILING, rate)
  if (gains.length === 0) return
  const at = (samples: Float32Array) => gains.map((gain, i) => gain * samples[margin + i]!)
  yield { left: at(left), right: at(right) }
}

function joined(a: Float32Array, b: Float32Array): Float32Array {
  const all = new Float32Array(a.length + b.length)
  all.set(a)
  all.set(b, a.length)
  return all
}
