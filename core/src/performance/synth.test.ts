/** Messages for a synthesizer, held against what they must make of each tone. */
import { describe, expect, test } from "vitest"
import { synthScript } from "./synth.js"
import { performed, PLAIN, scoreFrom } from "./testing/scores.js"

/** Hertz by key as the tuning messages set them (MIDI Tuning Standard: semitone, then 14 bits of one). */
function tunings(bytes: readonly (readonly number[])[]) {
  const keys = new Map<number, number>()
  for (const message of bytes.filter(one => one[0] === 0xf0)) {
    expect(message.slice(0, 5)).toEqual([0xf0, 0x7f, 0x7f, 0x08, 0x02])
    expect(message.at(-1)).toBe(0xf7)
    expect(message.slice(1, -1).every(byte => byte >= 0 && byte < 128)).toBe(true)
    for (let n = 0; n < message[6]!; n++) {
      const [key, semitone, high, low] = message.slice(7 + 4 * n, 11 + 4 * n) as [number, number, number, number]
      keys.set(key, 440 * 2 ** ((semitone + (high * 128 + low) / 16384 - 69) / 12))
    }
  }
  return keys
}

describe("each tone", () => {
  const performance = performed(scoreFrom("c4:1 gs4:1 af4:1 r:1 bf3:1 as3:1 a4:1", "c3:7"), {
    ...PLAIN,
    tuning: "pythagorean",
  })
  const { setup, messages, channels } = synthScript(performance)
  const keys = tunings(setup.map(one => one.bytes))
  test("has a key of its own that is tuned to its hertz, within a hundredth of a cent", () => {
    for (const sound of performance.sounds) {
      const on = messages.find(
        one => one.seconds === sound.start && one.bytes[0] === (0x90 | channels.get(sound.voice)!),
      )!
      expect(Math.abs(1200 * Math.log2(keys.get(on.bytes[1]!)! / sound.hertz))).toBeLessThan(0.01)
    }
  })
  test("ends before the next begins at that moment, on the same key", () => {
    const open = new Set<string>()
    for (const { channel, bytes } of messages) {
      const name = `${channel} ${bytes[1]}`
      if (bytes[0]! >= 0x90) open.add(name)
      else expect(open.delete(name)).toBe(true)
    }
    expect(open.size).toBe(0)
    const seconds = messages.map(one => one.seconds)
    expect(seconds).toEqual(seconds.toSorted((a, b) => a - b))
  })
})

test("many spellings in many octaves all keep their own key", () => {
  const names = ["c", "cs", "df", "d", "ds", "ef", "e", "f", "fs", "gf", "g", "gs", "af", "a", "as", "bf", "b"]
  const text = [2, 3, 4, 5].flatMap(octave => names.map(name => `${name}${octave}:1`)).join(" ")
  const { setup, messages } = synthScript(performed(scoreFrom(text), { ...PLAIN, tuning: "meantone" }))
  expect(tunings(setup.map(one => one.bytes)).size).toBe(68)
  expect(new Set(messages.map(one => one.bytes[1])).size).toBe(68)
})

test("channels: none of them the tenth, in groups of sixteen", () => {
  const score = scoreFrom(...Array.from({ length: 18 }, () => "d4:1"))
  const { channels, messages, channelCount } = synthScript(performed(score))
  expect([...channels.values()].sort((a, b) => a - b)).toEqual([
    0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19,
  ])
  expect(channelCount).toBe(20)
  expect(messages.every(one => (one.bytes[0]! & 15) === one.channel % 16)).toBe(true)
})

test("muted voices are left out, unless the caller mixes by itself", () => {
  const score = scoreFrom("d4:1", "d3:1")
  const performance = performed(score, { voices: new Map([[score.voices[0]!.id, { mute: true, place: -1 }]]) })
  expect(synthScript(performance).messages.length).toBe(2)
  const dry = synthScript(performance, { dry: true })
  expect(dry.messages.length).toBe(4)
  expect(dry.setup.filter(one => one.bytes[0]! >> 4 === 0xb && one.bytes[1] === 10).map(one => one.bytes[2])).toEqual([
    64, 64, 64,
  ])
})

test("levels and places go where they should", () => {
  const score = scoreFrom("d4:1", "d3:1")
  const [a, b] = score.voices.map(one => one.id)
  const { setup } = synthScript(
    performed(score, {
      voices: new Map([
        [a!, { level: -12, place: -1 }],
        [b!, { timbre: "organ", place: 1 }],
      ]),
    }),
  )
  const sent = (channel: number) =>
    setup.filter(one => one.channel === channel && one.bytes[0]! < 0xf0).map(one => one.bytes)
  // 40 · log(volume / 100) = -12 dB
  expect(sent(0)).toEqual([
    [0xc0, 52],
    [0xb0, 7, 50],
    [0xb0, 10, 1],
    [0xb0, 91, 0],
    [0xb0, 93, 0],
  ])
  expect(sent(1)).toEqual([
    [0xc1, 19],
    [0xb1, 7, 100],
    [0xb1, 10, 127],
    [0xb1, 91, 0],
    [0xb1, 93, 0],
  ])
})
