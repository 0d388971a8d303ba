/** Proposals in words: the same for whoever reads them in a terminal and in the window. */
import { describe, expect, test } from "vitest"
import { mustWork } from "../base/testing/must-work.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { alignVoices } from "../score/index.js"
import { readTogether } from "../together/index.js"
import { fictaSummary, proposeFicta, tellFicta, tellOpenFicta } from "./index.js"

/** Of our own making: b against f in the tenor, and once both are written natural. */
function told(text: string) {
  const page = mustWork(parseShorthand(text))
  const score = alignVoices(page, readTogether(page).readings)
  const ficta = proposeFicta(page, score)
  return { page, ficta, proposals: tellFicta(page, score, ficta) }
}
const PIECE = `voice cantus practice=white
C S g4 f4 B g4 S f4 a4 b4 a4 L g4
voice tenor practice=white
C S c3 b2 B g2 S d3 d3 d3 d3 L g2`

describe("proposals in words", () => {
  test("say where, what is sung, why, and what that rests on", () => {
    const { ficta, proposals } = told(PIECE)
    expect(fictaSummary(ficta)).toBe("Proposed: 1 required, 1 likely.")
    expect(proposals.map(({ place, sung, source }) => [place, sung, source])).toEqual([
      ["tenor 2", "b flat", "Ars nova, c. 1320, chapter 14"],
      ["cantus 6", "b flat", "Common practice, handbooks of the last century, musica ficta"],
    ])
    expect(proposals[0]!.reason).toBe(
      "With the cantus there is a diminished fifth: mi is not sung against fa in a fifth.",
    )
  })
  test("name the notes that can only be sung with it", () => {
    const { proposals } = told(PIECE.replace("S c3 b2 B g2", "S c3 M b2 b2 B g2"))
    const along = proposals.filter(({ proposal }) => proposal.with.length > 0)
    expect(along.length).toBeGreaterThan(0)
    for (const { reason, proposal } of along) expect(reason).toBe(`${proposal.reason} With ${otherOf(proposal.sign)}.`)
    function otherOf(sign: string): string {
      return along.find(one => one.proposal.sign !== sign)!.place
    }
  })
  test("of what stays as it stands tell what is impure, and all only when asked", () => {
    const { page, ficta } = told(PIECE.replace("b2", "b+n2").replace("f4", "f+n4"))
    const open = tellOpenFicta(page, ficta)
    expect(open.map(({ place, reason }) => [place, /diminished fifth/.test(reason)])).toEqual([["cantus 2", true]])
    expect(tellOpenFicta(page, ficta, true)).toHaveLength(ficta.open.length)
  })
  test("are none for a piece without a note", () => {
    const { ficta, proposals } = told("voice a practice=white\nclef:C1")
    expect([fictaSummary(ficta), proposals]).toEqual(["Nothing is proposed.", []])
  })
})
