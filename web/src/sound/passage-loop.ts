/**
 * A passage again and again without a gap: its samples go round by the clock of the sound itself, so that the beat of what is
 * practised never limps.
 */
import { WAV_HEADER_BYTES } from "@resolutio/core"

/** So many ms at either end it swells and fades, so that nothing clicks where it joins. */
const EDGE = 4
const CHANNELS = 2
const FULL = 32_768

/** Times are in seconds of the whole sound. */
export class PassageLoop {
  readonly #context = new AudioContext()
  readonly #level: GainNode
  readonly #start: number
  readonly #length: number

  /** `wav` is 16-bit PCM of two channels, as our own files are. It begins at once. */
  constructor(
    wav: ArrayBuffer,
    private readonly from: number,
    to: number,
    loudness: number,
  ) {
    const buffer = cut(this.#context, wav, from, to)
    this.#length = buffer.duration
    this.#level = new GainNode(this.#context, { gain: loudness })
    const source = new AudioBufferSourceNode(this.#context, { buffer, loop: true })
    source.connect(this.#level).connect(this.#context.destination)
    this.#start = this.#context.currentTime + 0.02
    source.start(this.#start)
  }

  /** Where it is heard now. */
  get now(): number {
    const since = this.#context.currentTime - this.#start - (this.#context.outputLatency || 0)
    return this.from + (Math.max(0, since) % this.#length)
  }

  /** Of full loudness, 0 to 1. */
  set loudness(loudness: number) {
    this.#level.gain.setTargetAtTime(loudness, this.#context.currentTime, 0.015)
  }

  pause(): void {
    void this.#context.suspend()
  }
  goOn(): void {
    void this.#context.resume()
  }
  end(): void {
    void this.#context.close()
  }
}

function cut(context: BaseAudioContext, wav: ArrayBuffer, from: number, to: number): AudioBuffer {
  const rate = new DataView(wav).getUint32(24, true)
  const pcm = new Int16Array(wav, WAV_HEADER_BYTES, Math.floor((wav.byteLength - WAV_HEADER_BYTES) / 2))
  const first = Math.floor(from * rate)
  const frames = Math.max(1, Math.min(Math.floor(to * rate), pcm.length / CHANNELS) - first)
  const buffer = context.createBuffer(CHANNELS, frames, rate)
  const edge = Math.min((EDGE * rate) / 1000, frames / 2)
  for (let channel = 0; channel < CHANNELS; channel++) {
    const samples = buffer.getChannelData(channel)
    for (let i = 0; i < frames; i++)
      samples[i] = ((pcm[(first + i) * CHANNELS + channel] ?? 0) / FULL) * Math.min(1, i / edge, (frames - i) / edge)
  }
  return buffer
}
