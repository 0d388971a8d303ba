/** What keeps its length at a change of sign, by source; and that voices keep step whatever changes. */
import { describe, expect, test } from "vitest"
import { plus, ratio, toNumber, toText, type Rational } from "../base/index.js"
import { signsFrom } from "../score/testing/readings.js"
import { secondsAt } from "./clock.js"
import { EQUIVALENCE_RULES, equivalencesOf, practiceKeeps } from "./equivalence.js"
import type { Equivalence } from "./names.js"
import { lengthsOf } from "./tempo.js"
import { performed, PLAIN, scoreFrom } from "./testing/scores.js"

type Levels = { tempus: 2 | 3; prolatio: 2 | 3; proportion?: Rational }
/** Signs as they are drawn, by what they say. */
const SIGNS: Readonly<Record<string, Levels>> = {
  O: { tempus: 3, prolatio: 2 },
  C: { tempus: 2, prolatio: 2 },
  "O.": { tempus: 3, prolatio: 3 },
  "C.": { tempus: 2, prolatio: 3 },
  "cut O": { tempus: 3, prolatio: 2, proportion: ratio(2) },
  "cut C": { tempus: 2, prolatio: 2, proportion: ratio(2) },
  "C with 3/2": { tempus: 2, prolatio: 2, proportion: ratio(3, 2) },
  "C with 3/1": { tempus: 2, prolatio: 2, proportion: ratio(3) },
  "C. augmented": { tempus: 2, prolatio: 3, proportion: ratio(1, 2) },
}

/** Two voices that change together after 24 minims. */
function changing(from: string, to: string, practice = "ars-nova") {
  const mensurations = [
    { onset: ratio(0), ...SIGNS[from]! },
    { onset: ratio(24), ...SIGNS[to]! },
  ]
  return scoreFrom(
    { label: "cantus", practice, mensurations, signs: signsFrom("d4:24 e4:1 f4:23") },
    { label: "tenor", practice, mensurations, signs: signsFrom("d3:24 a3:24") },
  )
}

describe("how much faster the minim goes after a change in all voices", () => {
  test.each<[string, string, Equivalence, string, string]>([
    // minim for minim between signs without stroke, figure or reversal: Proportionale musices, 1470s, III.2
    ["O", "C", "minim", "1", "Proportionale musices, 1470s, III.2"],
    ["O", "C.", "minim", "1", "Proportionale musices, 1470s, III.2"],
    ["C.", "O.", "minim", "1", "Proportionale musices, 1470s, III.2"],
    // a stroke is a diminution by half, which is in the durations: Practica musicae, 1496, II.14
    ["O", "cut O", "minim", "1", "Practica musicae, 1496, II.14"],
    ["C", "cut C", "minim", "1", "Practica musicae, 1496, II.14"],
    // semibreve for semibreve: three minims in the time of two, reported and condemned in Proportionale musices, 1470s, III.2
    ["C", "C.", "semibreve", "3/2", "Proportionale musices, 1470s, III.2 (condemned there)"],
    ["O.", "O", "semibreve", "2/3", "Proportionale musices, 1470s, III.2 (condemned there)"],
    ["O", "C", "semibreve", "1", "the same prolation"],
    // breve for breve, late fourteenth century: common practice, from memory; 4 minims in the time of 6 and the like
    ["C.", "C", "breve", "2/3", "common practice of the late 14th c., from memory"],
    ["C", "C.", "breve", "3/2", "common practice of the late 14th c., from memory"],
    ["O", "C", "breve", "2/3", "common practice of the late 14th c., from memory"],
    ["O.", "C.", "breve", "2/3", "common practice of the late 14th c., from memory"],
    ["O", "C.", "breve", "1", "both of six minims"],
    // one beat of the hand throughout: semibreve under O and C, two semibreves under strokes, three under 3/1 (De arte canendi, 1540, II)
    ["O", "C", "beat", "1", "De arte canendi, 1540, II"],
    ["C", "cut C", "beat", "1", "De arte canendi, 1540, II"],
    ["O", "cut C", "beat", "1", "De arte canendi, 1540, II"],
    ["C", "C with 3/1", "beat", "1", "De arte canendi, 1540, II.5"],
    ["C", "C with 3/2", "beat", "1", "De arte canendi, 1540, II.5"],
    // the minim of a dotted sign takes the beat, where it is augmented: Musica practica, 1482, III.1
    ["C", "C. augmented", "beat", "1", "Musica practica, 1482, III.1"],
    ["C", "C.", "beat", "3/2", "the semibreve of three minims in the time of that of two"],
  ])("%s to %s, the %s kept: %s (%s)", (from, to, keeps, faster, _source) => {
    const [taken] = equivalencesOf(changing(from, to), keeps, [])
    expect(toText(taken!.faster)).toBe(faster)
    expect(taken).toMatchObject({ keeps, from: "decided", voices: ["cantus", "tenor"] })
  })
})

describe("without a decision it is the practice that says", () => {
  test.each([
    ["ars-nova", 6, 4, "minim", "common practice, from memory"],
    ["white", 6, 4, "minim", "Proportionale musices"],
    ["trecento", 8, 6, "breve", "1412"],
    ["trecento", 12, 9, "breve", "1412"],
    ["trecento", 4, 6, "minim", "Rubrice breves"],
    ["unheard-of", 6, 4, "minim", "common practice"],
  ])("%s, from a breve of %i minims to one of %i: the %s (%s)", (practice, before, after, keeps, source) => {
    const lengths = (breve: number) => lengthsOf("minima", [ratio(breve), ratio(2), ratio(1)])
    const rule = practiceKeeps(practice, lengths(before), lengths(after))
    expect(rule.keeps).toBe(keeps)
    expect(rule.source).toContain(source)
  })
  test("every rule has a source", () => {
    expect(EQUIVALENCE_RULES.filter(rule => rule.source.length < 10)).toEqual([])
  })
  test("octonaria to senaria in equal breves: minims go slower, 6 in the time of 8", () => {
    const rule = practiceKeeps(
      "trecento",
      lengthsOf("minima", [ratio(8), ratio(4), ratio(1)]),
      lengthsOf("minima", [ratio(6), ratio(3), ratio(1)]),
    )
    expect(rule.keeps).toBe("breve")
  })
})

describe("what is decided", () => {
  const score = changing("C", "C.")
  test("for one change goes before what is asked for all", () => {
    const [taken] = equivalencesOf(score, "breve", [{ onset: ratio(24), keeps: "minim" }])
    expect(taken).toMatchObject({ keeps: "minim", faster: ratio(1), from: "decided" })
  })
  test("may be a ratio, also where no sign changes", () => {
    const taken = equivalencesOf(score, undefined, [{ onset: ratio(36), keeps: ratio(4, 3) }])
    expect(taken.map(one => [toText(one.onset), one.keeps, toText(one.faster)])).toEqual([
      ["24", "minim", "1"],
      ["36", "ratio", "4/3"],
    ])
  })
  test("is heard: after a change that keeps the breve, six minims last as long as four", () => {
    const { sounds, clock } = performed(score, { ...PLAIN, equivalence: "breve" })
    expect(sounds.map(one => one.start)).toEqual([0, 0, 24, 24, 24 + 2 / 3])
    expect(secondsAt(clock, ratio(30)) - secondsAt(clock, ratio(24))).toBeCloseTo(4, 12)
  })
})

test("what was kept is told, with its source", () => {
  const score = changing("C", "C.", "white")
  const told = (options: Parameters<typeof performed>[1]) => performed(score, options).sentences.join("\n")
  expect(told({})).toContain(
    "From minim 24 on where all voices change their sign, the minim keeps its length: minim for minim between signs without stroke, figure or reversal: Proportionale musices, 1470s, III.2.",
  )
  expect(told({ equivalence: "breve" })).toContain("the breve keeps its length: as decided.")
  expect(told({ decisions: [{ onset: ratio(36), keeps: ratio(4, 3) }] })).toContain(
    "From minim 36 on the minim goes 4/3 times as fast as before, as decided.",
  )
  expect(performed(scoreFrom("d4:4")).sentences.join()).not.toContain("keeps its length")
})

describe("a voice that changes sign while the others stay", () => {
  /** A thousand changes among the four prolations and proportions, a breve of each sign in minims. */
  const names = Object.keys(SIGNS)
  let onset = ratio(0)
  const spans: ({ onset: Rational } & Levels)[] = []
  const durations: Rational[] = []
  for (let n = 0; n < 1001; n++) {
    const sign = SIGNS[names[(n * 5) % names.length]!]!
    const { tempus, prolatio, proportion = ratio(1) } = sign
    const breve = ratio(tempus * prolatio * proportion.den, proportion.num)
    spans.push({ onset, ...sign })
    durations.push(breve)
    onset = plus(onset, breve)
  }
  const cantus = { label: "cantus", mensurations: spans, signs: durations.map(duration => ({ duration, pitch: "d4" })) }
  // The tenor has the same moments as one long row of notes under one sign, cut in halves.
  const tenor = {
    label: "tenor",
    signs: durations.flatMap(({ num, den }) => [1, 2].map(() => ({ duration: ratio(num, 2 * den), pitch: "d3" }))),
  }
  const score = scoreFrom(cantus, tenor)
  test.each([undefined, "minim", "breve", "beat"] as const)(
    "keeps exact step through a thousand changes (%s)",
    keeps => {
      const { sounds, equivalences } = performed(score, {
        tempo: { value: "minima", perMinute: 97 },
        equivalence: keeps,
      })
      expect(equivalences.length).toBe(1000)
      expect(new Set(equivalences.map(one => one.keeps))).toEqual(new Set(["none"]))
      const [upper, lower] = score.voices.map(voice => sounds.filter(one => one.voice === voice.id))
      expect(upper!.length).toBe(1001)
      expect(upper!.map((one, n) => one.start - lower![2 * n]!.start)).toEqual(upper!.map(() => 0))
      expect(upper!.at(-1)!.start).toBeCloseTo((toNumber(score.voices[0]!.events.at(-1)!.onset) * 60) / 97, 9)
    },
  )
  test("both voices through a thousand changes of speed, there and back, keep step and end where arithmetic says", () => {
    const mensurations = Array.from({ length: 1001 }, (_, n) => ({
      onset: ratio(12 * n),
      ...SIGNS[n % 2 ? "C." : "C"]!,
    }))
    const signs = mensurations.map(() => ({ duration: ratio(12), pitch: "d4" }))
    const both = scoreFrom({ label: "a", mensurations, signs }, { label: "b", mensurations, signs })
    const { sounds, duration, equivalences } = performed(both, { ...PLAIN, equivalence: "breve" })
    expect(equivalences.every(one => one.keeps === "breve")).toBe(true)
    // Twelve minims last twelve seconds under C and eight under C with a dot.
    expect(duration).toBeCloseTo(501 * 12 + 500 * 8, 8)
    expect(sounds.filter((one, n) => one.start !== sounds[n ^ 1]!.start)).toEqual([])
  })
})
