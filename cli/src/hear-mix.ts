/** Voices mixed to stereo, brought to one loudness and under a peak, written as WAV. */
import { closeSync, fsyncSync, openSync, writeSync } from "node:fs"
import {
  limiterGains,
  limiterMargin,
  loudnessMeter,
  pcm16,
  wavHeader,
  type LoudnessMeter,
  type PerformedVoice,
  type VoiceId,
} from "@resolutio/core"
import type { Patience, StemFile, Stems } from "./hear-stems.js"

/** In LUFS: as loud as a quiet broadcast, well under music that is sold. */
export const LOUDNESS = -18
/** No sample is above this; between samples a player may come a little higher. */
const CEILING = 10 ** (-2 / 20)

/** Which voices go into a file, and how loud. */
export interface Mix {
  readonly voices: readonly PerformedVoice[]
  /** By the gain that brings these to the usual loudness; without it by its own. */
  readonly asLoudAsIn?: readonly PerformedVoice[]
}

/** A stereo signal that can be gone through more than once, piece by piece. */
type Signal = () => Generator<{ readonly left: Float32Array; readonly right: Float32Array }>

/** Writes the voices that are heard; the count-in goes with them. */
export async function writeMix(
  file: string,
  mix: Mix,
  stems: StemFile,
  rate: number,
  patience: Patience,
): Promise<void> {
  const signal = mixed(mix.voices, stems)
  const half = (before: number) => (part: number) => patience.advance(before + part / 2)
  const own = await measured(signal, stems.frames, rate, half(0))
  const reference = mix.asLoudAsIn ? await measured(mixed(mix.asLoudAsIn, stems), stems.frames, rate, half(0)) : own
  const gain = gainFor(reference)
  const loud = mixed(mix.voices, stems, gain)
  const scaled = gain * own.peak() > CEILING ? limited(loud, rate) : loud
  const handle = openSync(file, "wx")
  const write = (bytes: Uint8Array): void => {
    for (let done = 0; done < bytes.length;) done += writeSync(handle, bytes, done)
  }
  try {
    write(wavHeader({ frames: stems.frames, rate, channels: 2 }))
    await eachPiece(scaled(), stems.frames, half(0.5), ({ left, right }) => write(pcm16([left, right])))
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}

async function measured(
  signal: Signal,
  frames: number,
  rate: number,
  advance: (part: number) => void,
): Promise<LoudnessMeter> {
  const meter = loudnessMeter(rate)
  await eachPiece(signal(), frames, advance, ({ left, right }) => meter.add(left, right))
  return meter
}

/** What is too short or too soft to have a loudness is brought to a low peak; silence stays silence. */
function gainFor(meter: LoudnessMeter): number {
  const [loudness, peak] = [meter.loudness(), meter.peak()]
  if (Number.isFinite(loudness)) return 10 ** ((LOUDNESS - loudness) / 20)
  return peak > 0 ? 0.1 / peak : 1
}

async function eachPiece<T extends { readonly left: Float32Array }>(
  pieces: Generator<T>,
  frames: number,
  advance: (part: number) => void,
  act: (piece: T) => void,
): Promise<void> {
  let [rested, done] = [Date.now(), 0]
  for (const piece of pieces) {
    act(piece)
    done += piece.left.length
    if (Date.now() - rested < 50) continue
    await new Promise(resolve => void setImmediate(resolve))
    advance(done / frames)
    rested = Date.now()
  }
}

/** Each voice at its level and place, left and right together always as strong. */
function mixed(voices: readonly PerformedVoice[], stems: StemFile, gain = 1): Signal {
  const heard = voices
    .filter(voice => voice.heard)
    .map(({ id, level, place }) => ({ id, ...sides(level, place, gain) }))
  const all: (Sides & { id: VoiceId | null })[] = [{ id: null, ...sides(-6, 0, gain) }, ...heard]
  return function* () {
    for (const { stems: piece } of stems.pieces()) {
      const [left, right] = [new Float32Array(lengthOf(piece)), new Float32Array(lengthOf(piece))]
      for (const voice of all) {
        const samples = piece.get(voice.id)
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

const lengthOf = (stems: Stems): number => [...stems.values()][0]?.length ?? 0

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
    yield* withGains(
      { left: joined(waiting.left, nothing.left), right: joined(waiting.right, nothing.right) },
      margin,
      rate,
    )
  }
}

function* withGains({ left, right }: { left: Float32Array; right: Float32Array }, margin: number, rate: number) {
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
