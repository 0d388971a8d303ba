/** One voice in another measure than the others: what its own notes say too faintly, all voices together say aloud. */
import { describe, expect, test } from "vitest"
import type { Page } from "../../page/index.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { findMensurations } from "./find.js"

const bare = (page: Page): Page => ({
  ...page,
  voices: page.voices.map(({ practice: _, ...voice }) => ({
    ...voice,
    signs: voice.signs.filter(sign => sign.kind !== "mensuration"),
  })),
})
const pieceOf = (seed: number): Page => bare(lawfulPiece(seed, { practice: "ars-nova", notes: 120, mixed: true }).page)

describe("a tenor in imperfect tempus and major prolation below voices in perfect tempus and minor prolation", () => {
  // it has four semibreves or fewer; custom would rather have its tempus and prolation as the others have theirs
  test.each([71029, 71044, 71052])("is found by how all voices sound (%i)", seed => {
    const page = pieceOf(seed)
    const [tenor, ...others] = findMensurations(page, { evidence: true }).voices.toSorted(
      (a, b) => Number(b.label === "tenor") - Number(a.label === "tenor"),
    )
    expect(tenor!.divisions).toMatchObject({ modusMinor: 3, tempus: 2, prolatio: 3 })
    expect(others.map(one => one.divisions)).toMatchObject(others.map(() => ({ tempus: 3, prolatio: 2 })))
    const heard = tenor!.candidates[0]!.evidence.find(one => one.rule === "sounds-together" && one.level === "tempus")
    expect(heard!.weight).toBeGreaterThan(2)
  })
})

test("an upper voice in another modus than the tenor's is found where a note shows it", () => {
  const upper = findMensurations(pieceOf(71011)).voices.filter(one => one.label !== "tenor")
  expect(upper.map(one => one.divisions)).toMatchObject([{ modusMinor: 2 }, { modusMinor: 2 }])
})
