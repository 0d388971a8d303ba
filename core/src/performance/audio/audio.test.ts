/** Loudness and limiting against published figures. */
import { describe, expect, test } from "vitest"
import type { VoiceId } from "../../base/index.js"
import { seeded } from "../../score/testing/readings.js"
import type { PerformedVoice } from "../voices.js"
import { limiterGains, limiterMargin, loudnessMeter, mixDown, type MixSource } from "./index.js"

const sine = (hertz: number, decibels: number, seconds: number, rate = 48_000) =>
  Float32Array.from(
    { length: seconds * rate },
    (_, i) => 10 ** (decibels / 20) * Math.sin((2 * Math.PI * hertz * i) / rate),
  )
const measured = (pieces: readonly (readonly [Float32Array, Float32Array])[], rate = 48_000) => {
  const meter = loudnessMeter(rate)
  for (const [left, right] of pieces) meter.add(left, right)
  return meter
}

describe("loudness", () => {
  // EBU Tech 3341 (version 4, 2023), minimum requirements, cases 1 to 4: tones of 1000 Hz in both channels, ±0.1 LU.
  const tone = (decibels: number, seconds: number) => {
    const one = sine(1000, decibels, seconds)
    return [one, one] as const
  }
  test.each([
    ["20 s at -23 dBFS", [tone(-23, 20)], -23],
    ["20 s at -33 dBFS", [tone(-33, 20)], -33],
    ["10 s at -36, 60 s at -23, 10 s at -36 dBFS", [tone(-36, 10), tone(-23, 60), tone(-36, 10)], -23],
    [
      "10 s at -72, 10 s at -36, 60 s at -23, then back",
      [tone(-72, 10), tone(-36, 10), tone(-23, 60), tone(-36, 10), tone(-72, 10)],
      -23,
    ],
  ])("%s", (_, pieces, expected) => {
    expect(Math.abs(measured(pieces).loudness() - expected)).toBeLessThan(0.1)
  })
  // ITU-R BS.1770-4, annex 1: a sine of 997 Hz at 0 dBFS in one channel reads -3.01 LKFS.
  test("997 Hz at full scale in one channel, at two sample rates", () => {
    for (const rate of [44_100, 48_000]) {
      const one = sine(997, 0, 5, rate)
      expect(measured([[one, new Float32Array(one.length)]], rate).loudness()).toBeCloseTo(-3.01, 1)
    }
  })
  test("silence has none, and a peak is a peak", () => {
    const silence = new Float32Array(48_000)
    expect(measured([[silence, silence]]).loudness()).toBe(-Infinity)
    const one = sine(441, -6, 1)
    expect(measured([[silence, one]]).peak()).toBeCloseTo(0.501, 3)
  })
})

describe("the limiter", () => {
  const RATE = 44_100
  const margin = limiterMargin(RATE)
  const random = seeded(7)
  const padded = (samples: Float32Array) => {
    const out = new Float32Array(samples.length + 2 * margin)
    out.set(samples, margin)
    return out
  }
  const noisy = Float32Array.from({ length: RATE }, (_, i) => (random() * 2 - 1) * (i % 9000 < 300 ? 3 : 0.4))
  const gains = limiterGains(padded(noisy), padded(noisy), 0.8, RATE)
  test("never lets a sample over the ceiling", () => {
    expect(gains.length).toBe(noisy.length)
    const over = noisy.filter((one, i) => Math.abs(one * gains[i]!) > 0.8 + 1e-6)
    expect(over.length).toBe(0)
  })
  test("leaves alone what is low enough, and moves without a jump", () => {
    expect(gains[4500]).toBe(1)
    const steepest = gains.reduce((most, one, i) => Math.max(most, i > 0 ? Math.abs(one - gains[i - 1]!) : 0), 0)
    expect(steepest).toBeLessThan(1 / margin + 1e-6)
  })
  test("joins pieces without a seam", () => {
    const whole = padded(noisy)
    const at = 10_000
    const second = limiterGains(whole.subarray(at), whole.subarray(at), 0.8, RATE)
    expect(second.every((one, i) => Math.abs(one - gains[at + i]!) < 1e-5)).toBe(true)
  })
})

describe("a mix", () => {
  const RATE = 44_100
  const [low, high] = ["low", "high"].map(one => one as VoiceId) as [VoiceId, VoiceId]
  const voice = (id: VoiceId, more: Partial<PerformedVoice> = {}): PerformedVoice => ({
    id,
    part: id,
    n: "1",
    label: id,
    timbre: "tone",
    level: 0,
    place: 0,
    mute: false,
    solo: false,
    heard: true,
    ...more,
  })
  const tones = new Map([
    [low, sine(220, -30, 4, RATE)],
    [high, sine(660, -30, 4, RATE)],
  ])
  /** In pieces of an uneven size, as they may come. */
  const source: MixSource = {
    rate: RATE,
    frames: 4 * RATE,
    pieces: function* () {
      for (let at = 0; at < 4 * RATE; at += 5000)
        yield new Map([...tones].map(([id, samples]) => [id, samples.subarray(at, at + 5000)]))
    },
  }
  async function mix(...voices: PerformedVoice[]) {
    const pieces: (readonly [Float32Array, Float32Array])[] = []
    const told: number[] = []
    await mixDown(
      { voices },
      source,
      ({ left, right }) => void pieces.push([left, right]),
      part => void told.push(part),
    )
    const whole = [0, 1].map(side => pieces.flatMap(piece => [...piece[side]!]))
    return { left: whole[0]!, right: whole[1]!, told, loudness: measured(pieces, RATE).loudness() }
  }
  const strength = (samples: readonly number[]) => Math.sqrt(samples.reduce((sum, one) => sum + one * one, 0))

  test("has the loudness of all files, whatever is in it", async () => {
    expect((await mix(voice(low), voice(high))).loudness).toBeCloseTo(-18, 1)
    expect((await mix(voice(low), voice(high, { heard: false }))).loudness).toBeCloseTo(-18, 1)
  })
  test("is as long as its source, and tells how far it is", async () => {
    const { left, told } = await mix(voice(low), voice(high))
    expect(left).toHaveLength(4 * RATE)
    expect(told.at(-1)).toBeCloseTo(1)
    expect(told.every((part, i) => i === 0 || part >= told[i - 1]!)).toBe(true)
  })
  test("a voice stands where it is placed, as strong there as anywhere", async () => {
    const [left, middle] = [await mix(voice(low, { place: -1 })), await mix(voice(low))]
    expect(strength(left.right)).toBeCloseTo(0)
    expect(strength(middle.left)).toBeCloseTo(strength(middle.right))
    expect(strength(left.left)).toBeCloseTo(Math.SQRT2 * strength(middle.left), 0)
  })
  test("who ends it while it waits ends it", async () => {
    const stop = () => {
      throw new Error("enough")
    }
    await expect(mixDown({ voices: [voice(low)] }, source, () => undefined, stop)).rejects.toThrow("enough")
  })
})
