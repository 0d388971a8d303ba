/** A voice sung in other values than it is written in, as far as only the other voices tell. */
import { describe, expect, test } from "vitest"
import type { Page, Sign } from "../page/index.js"
import { PieceTally } from "./testing/compare.js"
import { readTogether } from "./read-together.js"
import { lawfulPiece, type LawfulPiece } from "./testing/lawful-piece.js"
import { otherValues } from "./testing/special.js"

const cut = (sign: Sign): Sign => (sign.kind === "mensuration" ? { ...sign, strokes: 1 } : sign)

/** The piece with a stroke through the signs of one voice, or of all, that was not meant to halve anything. */
function stroked(piece: LawfulPiece, which: (label: string) => boolean): LawfulPiece {
  const voices = piece.page.voices.map(voice =>
    which(voice.label) ? { ...voice, signs: voice.signs.map(cut) } : voice,
  )
  return { ...piece, page: { ...piece.page, voices } }
}

const together = (page: Page) => readTogether(page).readings
const told = (page: Page): string[] => together(page).flatMap(one => one.problems.map(({ code }) => code))

describe("a stroke through the sign of one voice", () => {
  test.each(["ars-nova", "white"] as const)(
    "of %s takes nothing where only so the voice meets the others",
    practice => {
      const pieces = [1, 2, 3, 4].map(seed => {
        const piece = lawfulPiece(seed, { practice, notes: 30 })
        return stroked(piece, label => label === piece.page.voices[seed % 3]!.label)
      })
      const tally = new PieceTally()
      for (const piece of pieces) tally.add(piece, together(piece.page))
      expect(tally.meeting).toBe(pieces.length)
      expect(tally.wrong / tally.notes).toBeLessThan(0.02)
      for (const { page } of pieces) expect(told(page)).toEqual(["stroke-without-proportion"])
    },
  )

  test("halves where only so the voice meets the others, and nothing is told", () => {
    expect(told(otherValues(2, "stroke").page)).toEqual([])
  })

  test("of all voices is left as the option has it: they meet either way", () => {
    const { page } = stroked(lawfulPiece(3, { practice: "white", notes: 30 }), () => true)
    expect(told(page)).toEqual([])
    expect(together(page).map(one => one.mensurations[0]!.proportion)).toEqual(
      page.voices.map(() => ({ num: 2, den: 1 })),
    )
  })
})
