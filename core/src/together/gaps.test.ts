import { describe, expect, test } from "vitest"
import { equals, minus, ratio, signId, toNumber, ZERO, plus, type Rational } from "../base/index.js"
import { flatSigns, type MensurationSign, type Other, type Sign, type Page } from "../page/index.js"
import { readPage } from "../reading/index.js"
import { readTogether } from "./index.js"
import { heardAtAGlance } from "./with-gaps.js"
import { lawfulPiece, LAWFUL_PRACTICES, type LawfulPiece } from "./testing/lawful-piece.js"

/** The piece with part of its second voice lost: from one beginning of a large perfection to another. */
function withGap({ page, durations }: LawfulPiece): { page: Page; lost: Rational } | undefined {
  const voice = page.voices[1]!
  if (voice.signs.some(sign => sign.kind === "ligature")) return undefined
  let onset = ZERO
  const starts: { at: number; onset: Rational }[] = []
  flatSigns(voice).forEach(({ sign }, at) => {
    const lasts = durations.get(sign.id)
    if (lasts === undefined) return
    if (toNumber(onset) % 72 === 0 && onset.num > 0) starts.push({ at, onset })
    onset = plus(onset, lasts)
  })
  const [from, to] = starts
  if (from === undefined || to === undefined) return undefined
  const gap: Other = { kind: "other", id: signId("lost"), name: "gap" }
  const signs = [...voice.signs.slice(0, from.at), gap, ...voice.signs.slice(to.at)]
  return {
    page: { ...page, voices: page.voices.map(one => (one === voice ? { ...voice, signs } : one)) },
    lost: minus(to.onset, from.onset),
  }
}

test("a gap lasts as long as the other voices leave for it, and what follows is read right", () => {
  let pieces = 0
  let lengths = 0
  let notes = 0
  let right = 0
  for (let seed = 1; pieces < 12 && seed < 200; seed++) {
    const piece = lawfulPiece(seed, { practice: LAWFUL_PRACTICES[seed % 5]!, notes: 120 })
    const holed = withGap(piece)
    if (holed === undefined) continue
    pieces++
    const { readings } = readTogether(holed.page)
    const reading = readings[1]!
    const gap = reading.signs.find(sign => sign.id === "lost")!
    expect(gap.takenFor).toBe("lacuna")
    if (equals(gap.duration, holed.lost)) lengths++
    expect(reading.problems.map(one => one.code)).toContain("gap")
    for (const sign of readings.flatMap(one => one.signs)) {
      const meant = piece.durations.get(sign.id)
      if (meant === undefined || sign.held) continue
      notes++
      if (equals(meant, sign.duration)) right++
    }
  }
  expect(pieces).toBe(12)
  expect(lengths).toBeGreaterThanOrEqual(11)
  expect(right / notes).toBeGreaterThan(0.99)
})

/** The piece with a few measures lost of some voices, `gaps` times in each, at places where a large perfection begins. */
function torn({ page, durations }: LawfulPiece, which: readonly number[], gaps: number) {
  /** When what is lost is over. */
  const over = new Map<string, Rational>()
  const voices = page.voices.map((voice, v) => {
    if (!which.includes(v)) return voice
    let onset = ZERO
    const starts: { at: number; onset: Rational }[] = []
    flatSigns(voice).forEach(({ sign }, at) => {
      const lasts = durations.get(sign.id)
      if (lasts === undefined) return
      if (toNumber(onset) % 36 === 0) starts.push({ at, onset })
      onset = plus(onset, lasts)
    })
    if (voice.signs.some(sign => sign.kind === "ligature") || starts.length < 3 * gaps + 2) return undefined
    let signs = [...voice.signs]
    for (let g = gaps - 1; g >= 0; g--) {
      const at = 1 + Math.floor(((g + v / 3) * (starts.length - 2)) / gaps)
      const [from, to] = [starts[at], starts[at + 1 + ((g + v) % 2)]]
      if (from === undefined || to === undefined) return undefined
      const gap: Other = { kind: "other", id: signId(`lost${v}.${g}`), name: "gap" }
      over.set(gap.id, to.onset)
      signs = [...signs.slice(0, from.at), gap, ...signs.slice(to.at)]
    }
    return { ...voice, signs }
  })
  return voices.includes(undefined) ? undefined : { page: { ...page, voices: voices.map(one => one!) }, over }
}

describe.each([
  { title: "two voices with a gap each", voices: 3, which: [0, 1], gaps: 1, notes: 80, least: 0.8, pieces: 6 },
  { title: "a voice with two gaps", voices: 3, which: [1], gaps: 2, notes: 160, least: 0.7, pieces: 6 },
  { title: "a gap in every voice", voices: 2, which: [0, 1], gaps: 1, notes: 80, least: 0.7, pieces: 4 },
])("$title", ({ voices, which, gaps, notes, least, pieces }) => {
  test("all meet, and what follows a gap begins when it should", () => {
    const found = { pieces: 0, meet: 0, gaps: 0, right: 0 }
    for (let seed = 1; found.pieces < pieces && seed < 200; seed++) {
      const piece = lawfulPiece(seed, { practice: LAWFUL_PRACTICES[seed % 5]!, notes, voices })
      const holed = torn(piece, which, gaps)
      if (holed === undefined) continue
      found.pieces++
      const { readings, meeting } = readTogether(holed.page)
      if (meeting.length === readings.length) found.meet++
      for (const sign of readings.flatMap(one => one.signs)) {
        const meant = holed.over.get(sign.id)
        if (meant === undefined) continue
        found.gaps++
        if (equals(meant, plus(sign.onset, sign.duration))) found.right++
      }
    }
    expect(found).toMatchObject({ pieces, meet: pieces })
    expect(found.right / found.gaps).toBeGreaterThanOrEqual(least)
  })
})

test("where all voices lost the same place, what one lost more is known, and that it may be more is told", () => {
  const { page, durations } = lawfulPiece(3, { practice: "ars-nova", notes: 60, voices: 2 })
  const until = 36
  const voices = page.voices.map((voice, v) => {
    let onset = ZERO
    const at = voice.signs.findIndex(sign => {
      const lasts = sign.kind === "ligature" ? undefined : durations.get(sign.id)
      if (lasts !== undefined) onset = plus(onset, lasts)
      return toNumber(onset) >= until
    })
    const gap: Other = { kind: "other", id: signId(`lost${v}`), name: "gap" }
    return { ...voice, signs: [...voice.signs.slice(0, at + 1), gap, ...voice.signs.slice(at + 8)] }
  })
  const { readings, meeting } = readTogether({ ...page, voices })
  expect(meeting).toHaveLength(2)
  for (const reading of readings) {
    expect(reading.signs.find(sign => sign.takenFor === "lacuna")!.duration.num).toBeGreaterThan(0)
    const [told] = reading.problems.filter(one => one.code === "gap")
    expect(told!.what).toMatch(/and longer if more was lost of all voices, which their sound does not tell\.$/)
  }
})

test("alone, a gap has no length, and counting begins anew after it", () => {
  const piece = lawfulPiece(3, { practice: "ars-nova" })
  const gap: Other = { kind: "other", id: signId("lost"), name: "gap" }
  const voices = piece.page.voices.map(voice => ({
    ...voice,
    signs: [...voice.signs.slice(0, 3), gap, ...voice.signs.slice(3)],
  }))
  for (const reading of readPage({ ...piece.page, voices }))
    expect(reading.signs.find(sign => sign.id === "lost")).toMatchObject({ duration: ratio(0), takenFor: "lacuna" })
})

test("what is lost may be the end of a voice, and all that its last sign of mensuration stood for", () => {
  const { page } = lawfulPiece(3, { practice: "ars-nova" })
  const sign: MensurationSign = { kind: "mensuration", id: signId("last"), sign: "C" }
  const gap: Other = { kind: "other", id: signId("lost"), name: "gap" }
  const voices = page.voices.map((voice, i) =>
    i === 1 ? { ...voice, signs: [...voice.signs.slice(0, -6), sign, gap] } : voice,
  )
  const { readings } = readTogether({ ...page, voices })
  expect(readings[1]!.signs.at(-1)).toMatchObject({ id: "lost", takenFor: "lacuna" })
  expect(readings[0]!.signs.every(one => one.doubt < 0.5)).toBe(true)
})

describe("gaps in one voice", () => {
  const { page } = lawfulPiece(44, { practice: "white", notes: 120 })
  const gap = (id: string): Other => ({ kind: "other", id: signId(id), name: "gap" })
  const lostOf = (signs: (all: readonly Sign[]) => readonly Sign[]) => {
    const voices = page.voices.map((voice, v) => (v === 1 ? { ...voice, signs: signs(voice.signs) } : voice))
    const all = readTogether({ ...page, voices }).readings[1]!.signs
    return all.flatMap(sign => (sign.takenFor === "lacuna" ? [sign] : []))
  }

  test("beside each other are one: the first lasts as long as one in their place", () => {
    const [one] = lostOf(all => [...all.slice(0, 10), gap("a"), ...all.slice(18)])
    const [first, second] = lostOf(all => [...all.slice(0, 10), gap("a"), gap("b"), ...all.slice(18)])
    expect(one!.duration.num).toBeGreaterThan(0)
    expect([first!.duration, second!.duration]).toEqual([one!.duration, ratio(0)])
  })

  test("apart end where a measure begins, all but the last", () => {
    for (const from of [7, 9, 11]) {
      const lost = lostOf(all => [
        ...all.slice(0, from),
        gap("a"),
        ...all.slice(from + 6, from + 30),
        gap("b"),
        ...all.slice(from + 36),
      ])
      const ends = plus(lost[0]!.onset, lost[0]!.duration)
      const { tempus, prolatio } = readPage(page)[1]!.mensurations[0]!
      expect((ends.num / ends.den) % (tempus! * prolatio!)).toBe(0)
    }
  })
})

test("a voice of which it is not known how much is lost is not heard", () => {
  const { page } = lawfulPiece(3, { practice: "ars-nova" })
  const gap: Other = { kind: "other", id: signId("lost"), name: "gap" }
  const holed = page.voices.map((voice, v) =>
    v === 1 ? { ...voice, signs: [...voice.signs.slice(0, 8), gap, ...voice.signs.slice(12)] } : voice,
  )
  const silent = { echoes: [], after: new Map() }
  const { worked } = readTogether({ ...page, voices: holed })
  const whole = worked.filter((_, v) => v !== 1)
  const [unknown, known] = [new Map(), new Map([[gap.id, ratio(9)]])]
  expect(heardAtAGlance(worked, unknown, silent).cost).toBe(heardAtAGlance(whole, unknown, silent).cost)
  expect(heardAtAGlance(worked, known, silent).cost).not.toBe(heardAtAGlance(whole, known, silent).cost)
})
