/** WAV: RIFF with linear PCM of 16 bits (Multimedia Programming Interface and Data Specifications 1.0, August 1991). */

export interface WavForm {
  /** Samples of each channel. */
  readonly frames: number
  readonly rate: number
  readonly channels: number
}

export const WAV_HEADER_BYTES = 44
/** Sizes are written in 32 bits. */
const LARGEST = 2 ** 32 - 1 - WAV_HEADER_BYTES

/** The file's first 44 bytes. Throws a RangeError for more than four gigabytes of sound. */
export function wavHeader({ frames, rate, channels }: WavForm): Uint8Array {
  const size = frames * channels * 2
  if (size > LARGEST) throw new RangeError(`${frames} frames do not fit into a WAV file`)
  const view = new DataView(new ArrayBuffer(WAV_HEADER_BYTES))
  const letters = (at: number, text: string) => [...text].forEach((one, i) => view.setUint8(at + i, one.charCodeAt(0)))
  letters(0, "RIFF")
  view.setUint32(4, size + WAV_HEADER_BYTES - 8, true)
  letters(8, "WAVEfmt ")
  view.setUint32(16, 16, true)
  view.setUint16(20, 1, true)
  view.setUint16(22, channels, true)
  view.setUint32(24, rate, true)
  view.setUint32(28, rate * channels * 2, true)
  view.setUint16(32, channels * 2, true)
  view.setUint16(34, 16, true)
  letters(36, "data")
  view.setUint32(40, size, true)
  return new Uint8Array(view.buffer)
}

/** Samples from -1 to 1, channel beside channel; what is beyond is cut off. */
export function pcm16(channels: readonly Float32Array[]): Uint8Array {
  const frames = channels[0]?.length ?? 0
  const bytes = new Uint8Array(frames * channels.length * 2)
  channels.forEach((samples, channel) => {
    let at = 2 * channel
    for (let i = 0; i < frames; i++) {
      const level = Math.max(-32_768, Math.min(32_767, Math.round(samples[i]! * 32_767)))
      bytes[at] = level & 255
      bytes[at + 1] = (level >> 8) & 255
      at += 2 * channels.length
    }
  })
  return bytes
}
