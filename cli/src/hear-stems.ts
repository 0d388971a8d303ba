/** The voices as they were rendered, kept in a file until they are mixed: a long piece need not fit into memory. */
import { closeSync, openSync, readSync, rmSync, writeSync } from "node:fs"
import type { MixSource, VoiceId } from "@resolutio/core"
import { PIECE, type Rendering, type Rest } from "@resolutio/press"

export interface StemFile extends MixSource {
  remove(): void
}

/** Renders all voices into the file. */
export async function renderStems(
  file: string,
  { voices, frames, pieces }: Rendering,
  rate: number,
  rest: Rest,
): Promise<StemFile> {
  const handle = openSync(file, "wx+")
  const remove = (): void => {
    closeSync(handle)
    rmSync(file, { force: true })
  }
  try {
    for (const { stems, at } of pieces) {
      for (const samples of stems.values()) writeAll(handle, samples)
      const pause = rest(at / frames)
      if (pause) await pause
    }
  } catch (error) {
    remove()
    throw error
  }
  return { rate, frames, pieces: () => piecesOf(handle, voices, frames), remove }
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
    yield stems
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
