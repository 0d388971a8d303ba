/** The voices as they were rendered, kept in a file until they are mixed: a long piece need not fit into memory. */
import { closeSync, openSync, readSync, rmSync, writeSync } from "node:fs"
import type { VoiceId } from "@resolutio/core"
import type { Source } from "./hear-sources.js"

/** So many frames at a time. */
export const PIECE = 8192

export type Stems = ReadonlyMap<VoiceId | null, Float32Array>

export interface StemFile {
  readonly frames: number
  /** One piece after the other from the beginning; the same arrays are filled again. */
  pieces(): Generator<{ readonly stems: Stems; readonly at: number }>
  remove(): void
}

export interface Patience {
  /** From 0 to 1; called between pieces. Throws to end the work. */
  readonly advance: (part: number) => void
}

/** Renders all voices into the file. The program stays awake for an interrupt meanwhile. */
export async function renderStems(
  file: string,
  voices: readonly (VoiceId | null)[],
  sources: readonly Source[],
  frames: number,
  { advance }: Patience,
): Promise<StemFile> {
  const handle = openSync(file, "wx+")
  const remove = (): void => {
    closeSync(handle)
    rmSync(file, { force: true })
  }
  try {
    let rested = Date.now()
    for (let at = 0; at < frames; at += PIECE) {
      const stems = new Map(voices.map(voice => [voice, new Float32Array(Math.min(PIECE, frames - at))]))
      for (const source of sources) source.add(stems, at)
      for (const samples of stems.values()) writeAll(handle, samples)
      if (Date.now() - rested < 50) continue
      await new Promise(resolve => void setImmediate(resolve))
      advance(at / frames)
      rested = Date.now()
    }
  } catch (error) {
    remove()
    throw error
  }
  return { frames, pieces: () => piecesOf(handle, voices, frames), remove }
}

function* piecesOf(handle: number, voices: readonly (VoiceId | null)[], frames: number) {
  let place = 0
  for (let at = 0; at < frames; at += PIECE) {
    const stems = new Map<VoiceId | null, Float32Array>()
    for (const voice of voices) {
      const samples = new Float32Array(Math.min(PIECE, frames - at))
      readAll(handle, samples, place)
      place += samples.byteLength
      stems.set(voice, samples)
    }
    yield { stems, at }
  }
}

function writeAll(handle: number, samples: Float32Array): void {
  const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength)
  for (let done = 0; done < bytes.length;) done += writeSync(handle, bytes, done)
}

function readAll(handle: number, samples: Float32Array, place: number): void {
  const bytes = new Uint8Array(samples.buffer)
  for (let done = 0; done < bytes.length;) {
    const count = readSync(handle, bytes, done, bytes.length - done, place + done)
    if (count === 0) throw new Error("the voices that were rendered have gone")
    done += count
  }
}
