/** When tones begin and end: speed, holds, plicas, hockets, parts of a piece. */
import { describe, expect, test } from "vitest"
import { ratio, toNumber } from "../base/index.js"
import { alignVoices, type Score } from "../score/index.js"
import { DEMOS, demoPiece } from "../score/testing/demos.js"
import { randomPiece, signsFrom } from "../score/testing/readings.js"
import { FADE } from "./articulation.js"
import { secondsAt, unitsAt } from "./clock.js"
import { excerpt, rivalsInTurn, withCountIn } from "./excerpt.js"
import type { TempoValue } from "./names.js"
import { TEMPO_RANGES } from "./tempo.js"
import { performed, PLAIN, scoreFrom } from "./testing/scores.js"
import type { Performance } from "./types.js"
import { onlyVoice, practising } from "./voices.js"

const starts = ({ sounds }: Performance) => sounds.map(one => one.start)
const round = (number: number) => Math.round(number * 1e6) / 1e6
const notesOf = (score: Score) => score.voices.flatMap(voice => voice.events.filter(one => one.kind === "note"))

describe("speed is the length of a stated value", () => {
  const mensural = scoreFrom({
    label: "cantus",
    mensurations: [{ onset: ratio(0), tempus: 3, prolatio: 2 }],
    signs: signsFrom("d4:6 e4:6"),
  })
  test.each<[TempoValue, number]>([
    ["minima", 60 / 360],
    ["semiminima", 60 / 720],
    ["semibrevis", 60 / 180],
    ["brevis", 60 / 60],
    ["tactus", 60 / 180],
  ])("60 of %s: a breve of six minims lasts as it must", (value, perMinim) => {
    const { sounds } = performed(mensural, { tempo: { value, perMinute: 60 } })
    const minims = { minima: 6, semiminima: 12, semibrevis: 3, brevis: 1, tactus: 3 }[value as "minima"]
    expect(sounds[1]!.start).toBeCloseTo(minims, 10)
    expect(perMinim).toBeGreaterThan(0)
  })
  test("counted in tempora: 90 breves, 30 perfections", () => {
    const old = scoreFrom({ label: "tenor", unit: "tempus", signs: signsFrom("d3:3 e3:3") })
    for (const [value, perMinute] of [
      ["brevis", 90],
      ["tempus", 90],
      ["perfectio", 30],
      ["longa", 30],
    ] as const)
      expect(performed(old, { tempo: { value, perMinute } }).sounds[1]!.start).toBeCloseTo(2, 10)
    expect(() => performed(old, { tempo: { value: "minima", perMinute: 90 } })).toThrow("no length of its own")
  })
  test("speed multiplies it", () => {
    expect(starts(performed(mensural, { ...PLAIN, speed: 0.5 }))).toEqual([0, 12])
  })
  test("a speed that nobody stated is an estimate, and says so with the ranges of its period", () => {
    const { tempo, sentences } = performed(mensural)
    expect(tempo.from).toBe("editor")
    expect(sentences.join(" ")).toContain("an editor's estimate and no fact")
    expect(sentences.join(" ")).toContain("c. 1315-1420 160 to 300 minims")
    expect(TEMPO_RANGES.every(one => one.source.includes("estimate") && one.from < one.to)).toBe(true)
  })
})

describe("onsets are those of the score", () => {
  test.each(DEMOS)("demo %s", name => {
    const { page, readings } = demoPiece(name)
    checkOnsets(alignVoices(page, readings))
  })
  test("100 random pieces", () => {
    for (let seed = 1; seed <= 100; seed++) {
      const { page, readings } = randomPiece(seed)
      checkOnsets(alignVoices(page, readings))
    }
  })
})

/** By hand from the exact onset; every note has its tone, in order, and none sounds before it begins. */
function checkOnsets(score: Score) {
  const { sounds, tempo, voices } = performed(score, { plica: "unsung", final: 0, fermata: 1 })
  const exact = new Map(notesOf(score).map(one => [one.id, (toNumber(one.onset) * 60) / tempo.unitsPerMinute]))
  expect(sounds.length).toBe(exact.size)
  for (const sound of sounds) {
    expect(Math.abs(sound.start - exact.get(sound.note!)!)).toBeLessThan(1e-9)
    expect(sound.end).toBeGreaterThan(sound.start)
  }
  for (const { id } of voices) {
    const own = sounds.filter(one => one.voice === id)
    expect(own.every((one, at) => at === 0 || own[at - 1]!.end <= one.start + 1e-9)).toBe(true)
  }
}

describe("holds", () => {
  const fermata = (text: string, at: number) =>
    signsFrom(text).map((sign, i) => (i === at ? { ...sign, note: { ...sign.note, fermata: true } } : sign))
  const score = scoreFrom(
    { label: "cantus", signs: fermata("d4:2 e4:2 f4:4", 1) },
    { label: "tenor", signs: fermata("d3:1 e3:1 d3:2 a2:4", 2) },
  )
  test("a fermata doubles its note, in all voices at once, and what follows begins together", () => {
    const { sounds, duration } = performed(score, PLAIN)
    expect(starts({ sounds } as Performance)).toEqual([0, 0, 1, 2, 2, 6, 6])
    expect(sounds.filter(one => one.start === 2).map(one => one.end)).toEqual([6, 6])
    expect(duration).toBe(10)
  })
  test("in one voice only it lets the others wait", () => {
    const one = scoreFrom({ label: "a", signs: fermata("d4:2 e4:2 f4:4", 1) }, "d3:1 e3:1 d3:1 e3:1 a2:4")
    expect(starts(performed(one, PLAIN))).toEqual([0, 0, 1, 2, 2, 3, 6, 6])
  })
  test("as often as long as asked; not longer than three seconds more; or not at all", () => {
    expect(performed(score, { ...PLAIN, fermata: 1.5 }).duration).toBe(9)
    expect(performed(score, { ...PLAIN, fermata: 9 }).duration).toBe(11)
    expect(performed(score, { ...PLAIN, fermata: 1 }).duration).toBe(8)
  })
  test("the final sounds long enough, and its voices end together", () => {
    const short = scoreFrom("d4:2 e4:1", "d3:1 e3:1 f3:1")
    const { sounds, duration } = performed(short, { ...PLAIN, final: 2.5 })
    expect(duration).toBe(4.5)
    expect(sounds.slice(-2).map(one => one.end)).toEqual([4.5, 4.5])
    expect(performed(short, { ...PLAIN, final: 0.5 }).duration).toBe(3)
  })
  test("the clock runs back too: where the music stands at each second", () => {
    const { clock } = performed(score, PLAIN)
    for (const [seconds, units] of [
      [0, 0],
      [1.5, 1.5],
      [4, 4],
      [5, 4],
      [6, 4],
      [7, 5],
    ] as const)
      expect(unitsAt(clock, seconds)).toBeCloseTo(units, 9)
    expect(secondsAt(clock, ratio(5))).toBe(7)
  })
})

describe("plicas", () => {
  const plicated = (duration: ReturnType<typeof ratio> | null) =>
    scoreFrom({
      label: "motetus",
      unit: "tempus",
      signs: signsFrom("b3:3 g3:3").map((sign, i) =>
        i === 0
          ? {
              ...sign,
              note: { plica: { direction: "down" as const } },
              plica: { duration, pitch: "a3", certain: true },
            }
          : sign,
      ),
    })
  const how = { tempo: { value: "tempus", perMinute: 60 }, final: 0 } as const
  test.each([
    ["sung", ratio(1, 2), [0, 2.5, 3]],
    ["read", ratio(1, 2), [0, 2.5, 3]],
    ["unsung", ratio(1, 2), [0, 3]],
    ["sung", null, [0, 2, 3]],
    ["read", null, [0, 3]],
    ["unsung", null, [0, 3]],
  ] as const)("%s, share %o: tones begin at %o", (plica, share, expected) => {
    const { sounds } = performed(plicated(share), { ...how, plica })
    expect(sounds.map(one => round(one.start))).toEqual(expected)
    const [, tone] = sounds
    if (expected.length === 3) expect(tone).toMatchObject({ kind: "plica", key: 57, pitch: "a3" })
    if (expected.length === 3) expect(tone!.velocity).toBeLessThan(sounds[0]!.velocity)
  })
})

describe("letting go", () => {
  test("into the next note without a gap, before the same pitch with a little one", () => {
    const { sounds } = performed(scoreFrom("d4:1 e4:1 e4:1"), PLAIN)
    expect(sounds.map(one => round(one.end))).toEqual([1, 1.95, 3])
  })
  test("with a breath before a rest, shorter in a hocket, and silent when the rest begins", () => {
    const hocket = performed(scoreFrom("d4:1 r:1 d4:1 r:1", "r:1 d3:1 r:1 d3:1"), PLAIN)
    expect(hocket.sounds.map(one => round(one.end))).toEqual([0.92, 1.92, 2.92, 4])
    const alone = performed(scoreFrom("d4:1 r:1 d4:1 r:1"), PLAIN)
    expect(round(alone.sounds[0]!.end)).toBe(0.84)
  })
  test("however fast it goes", () => {
    for (const perMinute of [60, 240, 480, 600]) {
      const { sounds } = performed(scoreFrom("d4:1 r:1 d4:1 r:1", "r:1 d3:1 r:1 d3:1"), {
        tempo: { value: "minima", perMinute },
        final: 0,
      })
      for (const one of sounds.slice(0, 3)) {
        expect(one.end + FADE).toBeLessThanOrEqual(one.start + 60 / perMinute + 1e-9)
        expect(one.end - one.start).toBeGreaterThan(60 / perMinute / 4)
      }
    }
  })
})

describe("voices", () => {
  const score = scoreFrom("d4:1", "d3:1", "d2:1")
  test("stand apart from left to right, one alone in the middle", () => {
    expect(performed(score).voices.map(one => one.place)).toEqual([-0.6, 0, 0.6])
    expect(performed(scoreFrom("d4:1")).voices[0]!.place).toBe(0)
  })
  test("are heard as mute and solo say", () => {
    const [a, b] = score.voices.map(one => one.id)
    const heard = (wishes: [typeof a, object][]) =>
      performed(score, { voices: new Map(wishes.map(([id, one]) => [id!, one])) }).voices.map(one => one.heard)
    expect(heard([])).toEqual([true, true, true])
    expect(heard([[a, { mute: true }]])).toEqual([false, true, true])
    expect(heard([[b, { solo: true }]])).toEqual([false, true, false])
    expect(heard([[b, { solo: true, mute: true }]])).toEqual([false, false, false])
  })
  test("for practice: one loud and the others soft, or one alone", () => {
    const { voices } = performed(score)
    expect(practising(voices, voices[1]!.id).map(one => one.level)).toEqual([-12, 0, -12])
    expect(onlyVoice(voices, voices[2]!.id).map(one => one.heard)).toEqual([false, false, true])
  })
})

describe("parts of a performance", () => {
  const whole = performed(scoreFrom("d4:2 e4:2 f4:2 g4:2", "d3:3 e3:5"), PLAIN)
  test("from one moment to another; what is sounding begins there", () => {
    const part = excerpt(whole, { from: ratio(2), to: ratio(6) })
    expect(part.duration).toBe(4)
    expect(part.sounds.map(one => [one.key, one.start, one.end])).toEqual([
      [50, 0, 1],
      [64, 0, 2],
      [52, 1, 4],
      [65, 2, 4],
    ])
  })
  test("in a loop without a gap", () => {
    const part = excerpt(whole, { from: ratio(2), to: ratio(4), times: 3 })
    expect(part.duration).toBe(6)
    expect(part.sounds.filter(one => one.key === 64).map(one => one.start)).toEqual([0, 2, 4])
    expect(part.passages.map(one => [one.start, one.end])).toEqual([
      [0, 2],
      [2, 4],
      [4, 6],
    ])
  })
  test("after a count", () => {
    const part = withCountIn(excerpt(whole, { from: ratio(2) }), 3, 0.5)
    expect(part.sounds.slice(0, 3).map(one => [one.kind, one.voice, one.start])).toEqual([
      ["click", null, 0],
      ["click", null, 0.5],
      ["click", null, 1],
    ])
    expect(part.sounds[3]).toMatchObject({ key: 50, start: 1.5 })
    expect(part.duration).toBe(7.5)
  })
  test("two readings in turn: a click and A, two clicks and B", () => {
    const pair = rivalsInTurn(excerpt(whole, { to: ratio(2) }), excerpt(whole, { from: ratio(2), to: ratio(4) }), 1)
    expect(pair.passages.map(one => [one.name, one.start, one.end])).toEqual([
      ["A", 0.25, 2.25],
      ["B", 3.75, 5.75],
    ])
    expect(pair.sounds.filter(one => one.kind === "click").map(one => one.start)).toEqual([0, 3.25, 3.5])
    const twice = excerpt(pair, { times: 2 })
    expect(twice.duration).toBe(2 * pair.duration)
    expect(twice.passages.map(one => one.name)).toEqual(["A", "B", "A", "B"])
    expect(twice.sounds.length).toBe(2 * pair.sounds.length)
  })
})

test("a note without a pitch is silent, and that is said", () => {
  const { page, readings } = randomPiece(3)
  const score = alignVoices(page, readings)
  const mute = {
    ...score,
    voices: score.voices.map(voice => ({
      ...voice,
      events: voice.events.map((one, at) => (one.kind === "note" && at === 0 ? { ...one, pitch: null } : one)),
    })),
  }
  expect(performed(mute).problems.map(one => one.code)).toEqual(["silent-notes"])
})
