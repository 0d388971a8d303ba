/**
 * Sound in a quarter of its room: Microsoft ADPCM, one channel (the format is told in "Multimedia Programming Interface and Data
 * Specifications 1.0", 1991, and in RFC 2361; its tables from memory, checked against ffmpeg). It is simple enough to be unpacked
 * by a few lines of script, and gives the same bytes everywhere.
 */

/** Bytes of a block, and the samples in it. */
export const BLOCK_BYTES = 1024
export const BLOCK_SAMPLES = (BLOCK_BYTES - 7) * 2 + 2

const FIRST = [256, 512, 0, 192, 240, 460, 392]
const SECOND = [0, -256, 0, 64, 0, -208, -232]
const STEPS = [230, 230, 230, 230, 307, 409, 512, 614, 768, 614, 512, 409, 307, 230, 230, 230]

/** Samples from -1 to 1 as blocks; the last is filled up with silence. */
export function packed(samples: Float32Array): Uint8Array {
  const blocks = Math.ceil(samples.length / BLOCK_SAMPLES)
  const bytes = new Uint8Array(blocks * BLOCK_BYTES)
  const block = new Int16Array(BLOCK_SAMPLES)
  for (let b = 0; b < blocks; b++) {
    for (let i = 0; i < BLOCK_SAMPLES; i++) {
      const sample = samples[b * BLOCK_SAMPLES + i] ?? 0
      block[i] = Math.round(32_767 * Math.max(-1, Math.min(1, sample)))
    }
    bytes.set(bestOf(block), b * BLOCK_BYTES)
  }
  return bytes
}

/** Of all predictors the one that comes nearest. */
function bestOf(block: Int16Array): Uint8Array {
  let best = encoded(block, 0)
  for (let predictor = 1; predictor < FIRST.length; predictor++) {
    const other = encoded(block, predictor)
    if (other.error < best.error) best = other
  }
  return best.bytes
}

function encoded(block: Int16Array, predictor: number): { readonly bytes: Uint8Array; readonly error: number } {
  const [c1, c2] = [FIRST[predictor]!, SECOND[predictor]!]
  const bytes = new Uint8Array(BLOCK_BYTES)
  const view = new DataView(bytes.buffer)
  let [before, last, delta, error] = [block[0]!, block[1]!, firstStep(block, c1, c2), 0]
  view.setUint8(0, predictor)
  view.setInt16(1, delta, true)
  view.setInt16(3, last, true)
  view.setInt16(5, before, true)
  for (let i = 2; i < block.length; i++) {
    const predicted = Math.trunc((last * c1 + before * c2) / 256)
    const code = Math.max(-8, Math.min(7, Math.round((block[i]! - predicted) / delta)))
    const sample = Math.max(-32_768, Math.min(32_767, predicted + code * delta))
    error += (block[i]! - sample) ** 2
    ;[before, last] = [last, sample]
    delta = Math.max(16, (STEPS[code & 15]! * delta) >> 8)
    const at = 7 + ((i - 2) >> 1)
    bytes[at] = bytes[at]! | ((code & 15) << (i % 2 === 0 ? 4 : 0))
  }
  return { bytes, error }
}

/** A step with which the first samples can be told. */
function firstStep(block: Int16Array, c1: number, c2: number): number {
  let sum = 0
  for (let i = 2; i < 18; i++) sum += Math.abs(block[i]! - (block[i - 1]! * c1 + block[i - 2]! * c2) / 256)
  return Math.max(16, Math.min(32_767, Math.round(sum / 16 / 3)))
}

/**
 * The samples again, 16 bits each. It stands in the page as it is here: nothing outside of it is used.
 */
export function unpacked(bytes: Uint8Array): Int16Array {
  const first = [256, 512, 0, 192, 240, 460, 392]
  const second = [0, -256, 0, 64, 0, -208, -232]
  const steps = [230, 230, 230, 230, 307, 409, 512, 614, 768, 614, 512, 409, 307, 230, 230, 230]
  const samples = new Int16Array((bytes.length / 1024) * 2036)
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let block = 0; block < bytes.length / 1024; block++) {
    const from = block * 1024
    const [c1, c2] = [first[bytes[from]!]!, second[bytes[from]!]!]
    let delta = view.getInt16(from + 1, true)
    let last = view.getInt16(from + 3, true)
    let before = view.getInt16(from + 5, true)
    const at = block * 2036
    samples[at] = before
    samples[at + 1] = last
    for (let i = 2; i < 2036; i++) {
      const byte = bytes[from + 7 + ((i - 2) >> 1)]!
      const code = i % 2 === 0 ? byte >> 4 : byte & 15
      const predicted = Math.trunc((last * c1 + before * c2) / 256)
      const signed = code > 7 ? code - 16 : code
      const sample = Math.max(-32_768, Math.min(32_767, predicted + signed * delta))
      samples[at + i] = sample
      before = last
      last = sample
      delta = Math.max(16, (steps[code]! * delta) >> 8)
    }
  }
  return samples
}
