// A sung or blown tone taken apart into harmonics and put together again exactly in tune. Used once, to make the sound bank.

/** Strength and phase of each harmonic, every `hop` samples, against carriers at whole multiples of `phase` (in turns). */
export function takenApart(samples, rate, phase, periods, count) {
  const hop = 64
  const frames = Math.ceil(samples.length / hop) + 1
  const half = Math.round(2 * periods)
  const window = Float64Array.from(
    { length: 2 * half + 1 },
    (_, i) => 0.5 - 0.5 * Math.cos((Math.PI * (i + 0.5)) / (half + 0.5)),
  )
  const total = window.reduce((sum, one) => sum + one, 0)
  const harmonics = Array.from({ length: count }, () => ({
    re: new Float64Array(frames),
    im: new Float64Array(frames),
  }))
  for (let frame = 0; frame < frames; frame++) {
    const middle = frame * hop
    const from = Math.max(0, middle - half)
    const to = Math.min(samples.length, middle + half + 1)
    const re = new Float64Array(count)
    const im = new Float64Array(count)
    for (let i = from; i < to; i++) {
      const value = samples[i] * window[i - middle + half]
      const angle = -2 * Math.PI * phase[i]
      const [c, s] = [Math.cos(angle), Math.sin(angle)]
      let [cr, ci] = [c, s]
      for (let h = 0; h < count; h++) {
        re[h] += value * cr
        im[h] += value * ci
        const turned = cr * c - ci * s
        ci = cr * s + ci * c
        cr = turned
      }
    }
    for (let h = 0; h < count; h++) {
      harmonics[h].re[frame] = re[h] / total
      harmonics[h].im[frame] = im[h] / total
    }
  }
  return { hop, harmonics }
}

/** The sum of the harmonics on carriers of another phase. */
export function putTogether({ hop, harmonics }, phase) {
  const samples = new Float64Array(phase.length)
  for (let i = 0; i < phase.length; i++) {
    const place = i / hop
    const frame = Math.floor(place)
    const part = place - frame
    const angle = 2 * Math.PI * phase[i]
    const [c, s] = [Math.cos(angle), Math.sin(angle)]
    let [cr, ci] = [c, s]
    let sum = 0
    for (const { re, im } of harmonics) {
      const next = Math.min(frame + 1, re.length - 1)
      const a = re[frame] + (re[next] - re[frame]) * part
      const b = im[frame] + (im[next] - im[frame]) * part
      sum += a * cr - b * ci
      const turned = cr * c - ci * s
      ci = cr * s + ci * c
      cr = turned
    }
    samples[i] = 2 * sum
  }
  return samples
}

/** Hertz at each frame: what the strong low harmonics go round by, beyond their carriers at `hertz`. */
export function pitchTrack({ hop, harmonics }, rate, hertz, seconds) {
  const frames = harmonics[0].re.length
  const low = harmonics.slice(0, 6)
  const raw = Float64Array.from({ length: frames }, () => 0)
  const weight = new Float64Array(frames)
  for (let frame = 1; frame < frames; frame++)
    low.forEach(({ re, im }, h) => {
      const cross = im[frame] * re[frame - 1] - re[frame] * im[frame - 1]
      const along = re[frame] * re[frame - 1] + im[frame] * im[frame - 1]
      const strength = re[frame] ** 2 + im[frame] ** 2
      raw[frame] += (strength * Math.atan2(cross, along) * rate) / (2 * Math.PI * hop * (h + 1))
      weight[frame] += strength
    })
  const reach = Math.round((seconds * rate) / hop / 2)
  return Float64Array.from(raw, (_, frame) => {
    let [sum, total] = [0, 1e-30]
    for (let near = Math.max(1, frame - reach); near <= Math.min(frames - 1, frame + reach); near++) {
      sum += raw[near]
      total += weight[near]
    }
    return hertz + sum / total
  })
}

/** Turns from the beginning, sample by sample, at a frequency that is given every `hop` samples. */
export function phaseOf(track, hop, length, rate) {
  const phase = new Float64Array(length)
  for (let i = 1; i < length; i++) {
    const frame = Math.min(Math.floor(i / hop), track.length - 1)
    phase[i] = phase[i - 1] + track[frame] / rate
  }
  return phase
}

/** Harmonics up to `last` keep their strength, smoothed over so many seconds, and one phase: what is left is exactly in tune. */
export function locked({ hop, harmonics }, rate, last, seconds) {
  const reach = Math.round((seconds * rate) / hop / 2)
  return {
    hop,
    harmonics: harmonics.map((one, h) => {
      if (h >= last) return one
      const mean = [one.re, one.im].map(part => part.reduce((sum, value) => sum + value, 0))
      const angle = Math.atan2(mean[1], mean[0])
      const strength = smoothed(
        one.re.map((value, i) => value ** 2 + one.im[i] ** 2),
        reach,
      ).map(Math.sqrt)
      return { re: strength.map(value => value * Math.cos(angle)), im: strength.map(value => value * Math.sin(angle)) }
    }),
  }
}

function smoothed(values, reach) {
  return values.map((_, at) => {
    const from = Math.max(0, at - reach)
    const to = Math.min(values.length, at + reach + 1)
    let sum = 0
    for (let i = from; i < to; i++) sum += values[i]
    return sum / (to - from)
  })
}

/** Strength, sample by sample, as the root of the mean square over so many seconds. */
export function envelope(samples, rate, seconds) {
  const reach = Math.round((seconds * rate) / 2)
  const sums = new Float64Array(samples.length + 1)
  for (let i = 0; i < samples.length; i++) sums[i + 1] = sums[i] + samples[i] ** 2
  return Float64Array.from(samples, (_, i) => {
    const from = Math.max(0, i - reach)
    const to = Math.min(samples.length, i + reach + 1)
    return Math.sqrt((sums[to] - sums[from]) / (to - from))
  })
}
