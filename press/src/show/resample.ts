/** Two channels at 48 kHz as one at 24 kHz, by a half-band filter: what is too high for it is taken away first. */

/** Taps on either side; with the window below what folds back is under -60 dB. */
const REACH = 31

const TAPS = taps()

function taps(): Float32Array {
  const half = Float32Array.from({ length: 2 * REACH + 1 }, (_, i) => {
    const n = i - REACH
    const ideal = n === 0 ? 0.5 : Math.sin((Math.PI * n) / 2) / (Math.PI * n)
    // Blackman
    const phase = (2 * Math.PI * i) / (2 * REACH)
    return ideal * (0.42 - 0.5 * Math.cos(phase) + 0.08 * Math.cos(2 * phase))
  })
  const sum = half.reduce((all, one) => all + one, 0)
  return half.map(one => one / sum)
}

/** Collects pieces; `samples` gives what they come to. */
export class HalvedMono {
  readonly #middle: Float32Array
  #filled = 0

  constructor(frames: number) {
    this.#middle = new Float32Array(frames)
  }

  add({ left, right }: { readonly left: Float32Array; readonly right: Float32Array }): void {
    for (let i = 0; i < left.length && this.#filled < this.#middle.length; i++)
      this.#middle[this.#filled++] = (left[i]! + right[i]!) / 2
  }

  samples(): Float32Array {
    return Float32Array.from({ length: this.#middle.length >> 1 }, (_, i) => {
      let sum = 0
      for (let t = -REACH; t <= REACH; t++) sum += TAPS[t + REACH]! * (this.#middle[2 * i + t] ?? 0)
      return sum
    })
  }
}
