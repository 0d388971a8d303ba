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
  let count = 0
  let sum = 0
  let peak = 0
  return {
    add(left, right) {
      const [a, b] = [channels[0].weighted(left), channels[1].weighted(right)]
      for (let i = 0; i < left.length; i++) {
        peak = Math.max(peak, Math.abs(left[i]!), Math.abs(right[i]!))
        sum += a[i]! * a[i]! + b[i]! * b[i]!
        if (++count < tenth) continue
        sums.push(sum)
        count = 0
        sum = 0
      }
    },
    loudness: () => gated(sums, tenth),
    peak: () => peak,
  }
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
    const out = this.#out
    out.set(samples)
    this.filters.forEach(({ b, a }, n) => {
      const state = this.#states[n]!
      let [s, t] = [state[0]!, state[1]!]
      for (let i = 0; i < samples.length; i++) {
        const value = out[i]!
        const filtered = b[0] * value + s
        s = b[1] * value - a[0] * filtered + t
        t = b[2] * value - a[1] * filtered
        out[i] = filtered
      }
      state[0] = s
      state[1] = t
    })
    return out
  }
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
