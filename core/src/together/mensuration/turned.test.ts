/** Voices that turn to another mensuration within the piece, all signs having been taken away. */
import { describe, expect, test } from "vitest"
import { equals } from "../../base/index.js"
import { applyChange, flatSigns, type Page, type Sign } from "../../page/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import { readTogether } from "../read-together.js"
import { readApart } from "./doubts.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { signChange } from "../testing/special.js"
import type { LawfulPiece } from "../testing/writing.js"
import { assumedOf, findMensurations } from "./find.js"
import { supplyFound } from "./supply.js"

const isSign = (sign: Sign): boolean => sign.kind === "mensuration"
const kept = (page: Page, keep: (sign: Sign, voice: number) => boolean): Page => ({
  ...page,
  voices: page.voices.map((voice, v) => ({ ...voice, signs: voice.signs.filter(sign => keep(sign, v)) })),
})
const unsigned = (page: Page): Page => kept(page, sign => !isSign(sign))

/** By voice: number of the note or rest before which a second sign stands. */
function turnsOf(page: Page): (number | undefined)[] {
  return page.voices.map(voice => {
    let number = 1
    let signs = 0
    for (const { sign } of flatSigns(voice)) {
      if (isSign(sign) && ++signs === 2) return number
      if (sign.kind === "note" || sign.kind === "rest") number++
    }
    return undefined
  })
}
const used = (page: Page) => findMensurations(page).voices.map(one => one.changes.filter(change => change.used))

function shareRight({ durations }: LawfulPiece, page: Page, options: ReadOptions): number {
  const notes = readTogether(page, options).readings.flatMap(one =>
    one.signs.filter(sign => sign.kind === "note" && !sign.held && durations.has(sign.id)),
  )
  return notes.filter(sign => equals(sign.duration, durations.get(sign.id)!)).length / notes.length
}

describe("a change in a piece without any sign", () => {
  const SEEDS = [11, 12, 13]
  test.each([
    ["one voice", false],
    ["all voices", true],
  ])("of %s is found where it is, and read", (_, all) => {
    const right = SEEDS.filter(seed => {
      const piece = signChange(seed, "ars-nova", { notes: 60, who: all ? "all" : "second" })
      const page = unsigned(piece.page)
      const { voices } = findMensurations(page)
      const found = voices.map(one => one.changes.filter(change => change.used))
      // it may be too little to be read by; but it is no other
      if (found.every(own => own.length === 0)) return false
      turnsOf(piece.page).forEach((place, v) => {
        expect(found[v]).toHaveLength(place === undefined ? 0 : 1)
        if (place !== undefined) expect(found[v]![0]).toMatchObject({ divisions: { tempus: 2, prolatio: 3 } })
      })
      const isNear = turnsOf(piece.page).every((place, v) => Math.abs((found[v]![0]?.place ?? 0) - (place ?? 0)) <= 3)
      const assumed = new Map(voices.map(one => [one.voice, assumedOf(one)]))
      return isNear && shareRight(piece, page, { assumed }) > 0.99
    })
    expect(right.length).toBeGreaterThanOrEqual(SEEDS.length - 1)
  })

  const piece = signChange(12, "ars-nova", { notes: 60 })
  const page = unsigned(piece.page)
  const turning = turnsOf(piece.page).findIndex(place => place !== undefined)

  test("is told with the reading, as supplied, and its span is inferred", () => {
    const reading = readTogether(page).readings[turning]!
    expect(reading.problems).toMatchObject([{ code: "mensuration-supplied" }])
    const { doubts } = findMensurations(page).voices[turning]!
    expect(Math.max(doubts.tempus, doubts.prolatio)).toBeLessThan(0.05)
    expect(reading.mensurations).toMatchObject([
      { tempus: 3, prolatio: 2, from: "inferred" },
      { tempus: 2, prolatio: 3, from: "inferred" },
    ])
  })
  test("is written on the page as an editor's sign, and reads the same there", () => {
    const done = applyChange(page, supplyFound(page, findMensurations(page)))
    if (!done.ok) throw new Error(done.problems[0]?.what)
    const signs = done.value.page.voices[turning]!.signs.filter(isSign)
    expect(signs).toMatchObject([
      { tempus: 3, editorial: { kind: "supplied" } },
      { tempus: 2, editorial: { kind: "supplied" } },
    ])
    const durations = (of: Page) =>
      readTogether(of).readings.map(one => one.signs.filter(sign => sign.number > 0).map(sign => sign.duration))
    expect(durations(done.value.page)).toEqual(durations(page))
  })
  test("is not read in a voice that states its mensuration", () => {
    const stated = kept(piece.page, (sign, v) => !isSign(sign) || (v === turning && "initial" in sign))
    expect(used(stated)[turning]).toEqual([])
    expect(readTogether(stated).readings[turning]!.mensurations).toHaveLength(1)
  })
  test("is hardly told by a short voice alone", () => {
    const short = unsigned(signChange(3, "ars-nova", { notes: 30 }).page)
    expect(readApart(short).every(one => one.mensurations.length === 1)).toBe(true)
  })
})

describe("several changes in a piece without any sign", () => {
  /** By voice: number, modus minor, tempus and prolation of each change. */
  const foundIn = (page: Page): number[][][] =>
    used(page).map(own =>
      own.map(({ place, divisions: { modusMinor, tempus, prolatio } }) => [place, modusMinor, tempus, prolatio]),
    )
  const truthOf = ({ page }: LawfulPiece): number[][][] =>
    page.voices.map(voice => {
      let number = 1
      const found: number[][] = []
      for (const { sign } of flatSigns(voice)) {
        if (sign.kind === "note" || sign.kind === "rest") number++
        else if (sign.kind === "mensuration") found.push([number, sign.modusMinor!, sign.tempus!, sign.prolatio!])
      }
      return found.slice(1)
    })
  const THERE_AND_BACK = signChange(75005, "ars-nova", {
    notes: 60,
    divisions: [
      [2, 2, 2, 2],
      [2, 2, 2, 3],
      [2, 2, 2, 2],
    ],
  })
  const pieces: [string, LawfulPiece][] = [
    ["of one voice, there and back", THERE_AND_BACK],
    [
      "of all voices, on to a third",
      signChange(75005, "ars-nova", {
        notes: 60,
        who: "all",
        divisions: [
          [2, 2, 2, 2],
          [2, 2, 2, 3],
          [2, 2, 3, 2],
        ],
      }),
    ],
    [
      "of two voices, at different places",
      signChange(73005, "ars-nova", {
        notes: 60,
        who: "apart",
        divisions: [
          [2, 2, 2, 2],
          [2, 2, 2, 3],
        ],
      }),
    ],
    [
      "of all voices, in modus alone",
      signChange(76001, "ars-nova", {
        notes: 60,
        who: "all",
        divisions: [
          [2, 3, 2, 3],
          [2, 2, 2, 3],
        ],
      }),
    ],
  ]
  const BY_EAR: [string, LawfulPiece][] = (
    [
      [920002, 2, 3, 2],
      [920005, 3, 2, 2],
    ] as const
  ).map(([seed, before, after, prolatio]) => [
    `of all voices, in modus ${before} and ${after}, which the notes of none tell alone`,
    signChange(seed, "ars-nova", {
      notes: 60,
      who: "all",
      divisions: [
        [2, before, 2, prolatio],
        [2, after, 2, prolatio],
      ],
    }),
  ])
  test.each([...pieces, ...BY_EAR])("%s are found where they are", (_, piece) => {
    const found = foundIn(unsigned(piece.page))
    const truth = truthOf(piece)
    expect(found.map(own => own.map(([, ...levels]) => levels))).toEqual(
      truth.map(own => own.map(([, ...levels]) => levels)),
    )
    found.forEach((own, v) =>
      own.forEach(([place], k) => expect(Math.abs(place! - truth[v]![k]![0]!)).toBeLessThanOrEqual(5)),
    )
  })
  test("are written on the page as signs there and back, each told, and read the same there", () => {
    const page = unsigned(THERE_AND_BACK.page)
    const done = applyChange(page, supplyFound(page, findMensurations(page)))
    if (!done.ok) throw new Error(done.problems[0]?.what)
    const turning = turnsOf(THERE_AND_BACK.page).findIndex(place => place !== undefined)
    const signs = done.value.page.voices[turning]!.signs.filter(isSign)
    expect(signs).toMatchObject([{ prolatio: 2 }, { prolatio: 3 }, { prolatio: 2 }])
    const [before, after] = [page, done.value.page].map(of => readTogether(of).readings)
    const lengths = (of: typeof before) =>
      of!.map(one => one.signs.filter(sign => sign.number > 0).map(sign => sign.duration))
    expect(lengths(after)).toEqual(lengths(before))
    expect(before![turning]!.problems.map(one => one.code)).toEqual(["mensuration-supplied", "mensuration-supplied"])
    expect(before![turning]!.mensurations.map(one => one.prolatio)).toEqual([2, 3, 2])
  })
})

describe("in pieces that keep their mensurations no change is read", () => {
  const leftOut = (page: Page, v: number): Page => {
    const notes = page.voices[v]!.signs.filter(sign => sign.kind === "note")
    const lost = notes[Math.floor(notes.length / 2)]
    return kept(page, sign => sign !== lost)
  }
  test("ars-nova, a note left out so that a turn in modus of all would bring them together", () => {
    const { page } = lawfulPiece(920006, { practice: "ars-nova", notes: 100 })
    const notes = page.voices[2]!.signs.filter(sign => sign.kind === "note")
    const lost = notes[(7 * 920006) % notes.length]
    expect(used(unsigned(kept(page, sign => sign !== lost))).flat()).toEqual([])
  })
  test.each([
    ["ars-nova", false],
    ["ars-nova", true],
    ["white", true],
  ] as const)("%s, mixed %s", (practice, mixed) => {
    for (const seed of [21, 22, 23]) {
      const page = unsigned(lawfulPiece(seed, { practice, mixed, notes: 100 }).page)
      // nor where a note was left out, so that the voices part
      for (const one of [page, leftOut(page, seed % 3)]) expect(used(one).flat()).toEqual([])
    }
  })
})
