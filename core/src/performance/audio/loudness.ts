/** How loud a stretch of stereo sound is: integrated loudness by ITU-R BS.1770-4, in LUFS, and the highest peak. */

interface Filter {
  readonly b: readonly [number, number, number]
  readonly a: readonly [number, number]
}

/** The two filters of the recommendation, made for any sample rate from their analogue forms. */
function kWeighting(rate: number): readonly [Filter, Filter] {
  return [
    shelf(rate, 1681.974450955533, 3.999843853973347, 0.7071752369554196),
    highPass(rate, 38.13547087602444, 0.5003270373238773),
  ]
}

function shelf(rate: number, hertz: number, gain: number, q: number): Filter {
  const k = Math.tan((Math.PI * hertz) / rate)
  const high = 10 ** (gain / 20)
  const middle = high ** 0.4996667741545416
  const norm = 1 + k / q + k * k
  return {
    b: [
      (high + (middle * k) / q + k * k) / norm,
      (2 * (k * k - high)) / norm,
      (high - (middle * k) / q + k * k) / norm,
    ],
    a: [(2 * (k * k - 1)) / norm, (1 - k / q + k * k) / norm],
  }
}

function highPass(rate: number, hertz: number, q: number): Filter {
  const k = Math.tan((Math.PI * hertz) / rate)
  const norm = 1 + k / q + k * k
  return { b: [1, -2, 1], a: [(2 * (k * k - 1)) / norm, (1 - k / q + k * k) / norm] }
}

export interface LoudnessMeter {
  /** Left and right, of one length. */
  add(left: Float32Array, right: Float32Array): void
  /** In LUFS; -Infinity for silence, or less than 0.4 seconds. */
  loudness(): number
  /** The largest sample, 1 at full scale. */
  peak(): number
}

/** Squares are summed over tenths of a second; a block of the recommendation is four of them. */
export function loudnessMeter(rate: number): LoudnessMeter {
  const tenth = Math.round(rate / 10)
  const filters = kWeighting(rate)
  const channels = [new Channel(filters), new Channel(filters)] as const
  const sums: number[] = []
  let part = { sum: 0, count: 0 }
  let peak = 0
  return {
    add(left, right) {
      peak = Math.max(peak, largestOf(left), largestOf(right))
      const [a, b] = [channels[0].weighted(left), channels[1].weighted(right)]
      for (let at = 0; at < left.length;) {
        const until = Math.min(left.length, at + tenth - part.count)
        part = { sum: part.sum + squares(a, b, at, until), count: part.count + until - at }
        at = until
        if (part.count < tenth) continue
        sums.push(part.sum)
        part = { sum: 0, count: 0 }
      }
    },
    loudness: () => gated(sums, tenth),
    peak: () => peak,
  }
}

function largestOf(samples: Float32Array): number {
  let most = 0
  for (let i = 0; i < samples.length; i++) {
    const size = Math.abs(samples[i]!)
    if (size > most) most = size
  }
  return most
}

function squares(a: Float64Array, b: Float64Array, from: number, to: number): number {
  let sum = 0
  for (let i = from; i < to; i++) sum += a[i]! * a[i]! + b[i]! * b[i]!
  return sum
}

/** The filters one after the other, in transposed direct form; they go on where the last piece ended. */
class Channel {
  readonly #states: Float64Array[]
  #out = new Float64Array(0)
  constructor(readonly filters: readonly Filter[]) {
    this.#states = filters.map(() => new Float64Array(2))
  }
  weighted(samples: Float32Array): Float64Array {
    if (this.#out.length < samples.length) this.#out = new Float64Array(samples.length)
    this.#out.set(samples)
    this.filters.forEach((filter, n) => filtered(this.#out, samples.length, filter, this.#states[n]!))
    return this.#out
  }
}

/** In place. */
function filtered(out: Float64Array, length: number, { b, a }: Filter, state: Float64Array): void {
  const [b0, b1, b2] = b
  const [a1, a2] = a
  let [s, t] = [state[0]!, state[1]!]
  for (let i = 0; i < length; i++) {
    const value = out[i]!
    const next = b0 * value + s
    s = b1 * value - a1 * next + t
    t = b2 * value - a2 * next
    out[i] = next
  }
  state[0] = s
  state[1] = t
}

/** Blocks under -70 LUFS do not count, then those more than 10 under the mean of the rest. */
function gated(sums: readonly number[], tenth: number): number {
  const blocks = sums
    .slice(0, -3)
    .map((_, at) => (sums[at]! + sums[at + 1]! + sums[at + 2]! + sums[at + 3]!) / (4 * tenth))
  const loud = blocks.filter(power => level(power) > -70)
  const gate = level(mean(loud)) - 10
  return level(mean(loud.filter(power => level(power) > gate)))
}

const level = (power: number): number => -0.691 + 10 * Math.log10(power)
const mean = (all: readonly number[]): number =>
  all.length === 0 ? 0 : all.reduce((sum, one) => sum + one, 0) / all.length
