/** For tests: what a recording really sounds, found without knowing how it was made. */

/** Frequency of the strongest partial near `near`, in hertz: the top of the spectrum under a Hann window. */
export function measuredHertz(samples: Float32Array, rate: number, near: number, cents = 60): number {
  const windowed = Float64Array.from(
    samples,
    (one, i) => one * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / (samples.length - 1))),
  )
  const power = (at: number) => powerAt(windowed, rate, near * 2 ** (at / 1200))
  let best = 0
  for (let at = -cents; at <= cents; at += 4) if (power(at) > power(best)) best = at
  for (let step = 2; step > 0.02; step /= 2)
    for (const at of [best - step, best + step]) if (power(at) > power(best)) best = at
  return near * 2 ** (best / 1200)
}

function powerAt(samples: Float64Array, rate: number, hertz: number): number {
  const angle = (2 * Math.PI * hertz) / rate
  const [cosine, sine] = [Math.cos(angle), Math.sin(angle)]
  let [c, s, re, im] = [1, 0, 0, 0]
  for (const one of samples) {
    re += one * c
    im += one * s
    const turned = c * cosine - s * sine
    s = c * sine + s * cosine
    c = turned
  }
  return re * re + im * im
}

/** Frequency by autocorrelation: how late the sound is most like itself, near one period of `near`. */
export function periodHertz(samples: Float32Array, rate: number, near: number): number {
  const period = rate / near
  // Many periods late the same likeness tells the period so many times more finely.
  const times = Math.max(1, Math.min(12, Math.floor(samples.length / (3 * period))))
  let hertz = near
  for (let count = 1; count <= times; count++) {
    const middle = (count * rate) / hertz
    const reach = count === 1 ? period * 0.04 : period * 0.02
    hertz = (count * rate) / likestAt(samples, middle, reach)
  }
  return hertz
}

function likestAt(samples: Float32Array, middle: number, reach: number): number {
  const [from, to] = [Math.floor(middle - reach), Math.ceil(middle + reach)]
  let best = from
  const like = new Map<number, number>()
  for (let lag = from - 1; lag <= to + 1; lag++) like.set(lag, likeness(samples, lag))
  for (let lag = from; lag <= to; lag++) if (like.get(lag)! > like.get(best)!) best = lag
  const [a, b, c] = [like.get(best - 1)!, like.get(best)!, like.get(best + 1)!]
  const bend = a - 2 * b + c
  return best + (bend < 0 ? (a - c) / (2 * bend) : 0)
}

function likeness(samples: Float32Array, lag: number): number {
  let [product, first, second] = [0, 1e-12, 1e-12]
  for (let i = 0; i + lag < samples.length; i++) {
    product += samples[i]! * samples[i + lag]!
    first += samples[i]! ** 2
    second += samples[i + lag]! ** 2
  }
  return product / Math.sqrt(first * second)
}

/** Seconds at which the sound first rises above a part of its largest sample within the stretch. */
export function measuredOnset(samples: Float32Array, rate: number, from: number, to: number, part = 0.05): number {
  const [first, last] = [Math.max(0, Math.round(from * rate)), Math.round(to * rate)]
  const limit = part * largest(samples, from, to, rate)
  for (let i = first; i < last; i++) if (Math.abs(samples[i]!) > limit) return i / rate
  return NaN
}

/** The largest sample between two seconds, 1 at full scale. */
export function largest(samples: Float32Array, from: number, to: number, rate: number): number {
  let most = 0
  for (let i = Math.max(0, Math.round(from * rate)); i < Math.min(samples.length, Math.round(to * rate)); i++)
    most = Math.max(most, Math.abs(samples[i]!))
  return most
}

/** How many cents one frequency is above another. */
export const centsAbove = (hertz: number, other: number): number => 1200 * Math.log2(hertz / other)
