/** Prefatory staves in the engraved score: they stand at the height of their staves, and in none of their room. */
import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "../testing/program.js"

const PIECE = `title: Ave, "stella" <b>(invented)</b>
voice cantus practice=ars-nova
clef:C1 sig:bf O rB B c4 S d4 B e4 c4
> A- ve stel- la
voice "contratenor secundus" practice=ars-nova
clef:C3 O B c4 B c4 B g3 B c4
voice tenor practice=ars-nova lines=6
clef:F3 O B c3 B c3 B c3 B c3
`
const folder = folderWith({ "piece.figurae": PIECE })
const { at } = folder

const numbers = (text: string) => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number)

/** Heights and ends of the lines of each old staff. */
function oldStaves(svg: string) {
  return svg
    .split('<g class="incipit">')
    .slice(1)
    .map(part => {
      const group = part.slice(0, part.indexOf("</g>\n              </g>"))
      const lines = [...group.matchAll(/<line class="staff"[^>]*x1="([^"]+)" y1="([^"]+)" x2="([^"]+)"/g)].map(one =>
        one.slice(1).map(Number),
      )
      return { ys: lines.map(line => line[1]!).sort((a, b) => a - b), right: Math.max(...lines.map(line => line[2]!)) }
    })
}
/** The same of the staves of the first measure, and where they begin. */
function modernStaves(svg: string) {
  const measure = svg.split('class="measure"')[1]!
  return measure
    .split('class="staff"')
    .slice(1)
    .map(part => {
      const lines = [...part.matchAll(/<path d="M([\d. ]+ [\d. ]+) L/g)].slice(0, 5).map(one => numbers(one[1]!))
      return { ys: lines.map(line => line[1]!), left: lines[0]![0]! }
    })
}

describe("resolutio score -o .svg", () => {
  test("old staves stand in the middle of the heights of the modern ones, and end before them", async () => {
    const { status } = await resolutio(["score", at("piece.figurae"), "-o", at("a.svg")])
    expect(status).toBe(0)
    const svg = folder.text("a.svg")
    const [old, modern] = [oldStaves(svg), modernStaves(svg)]
    expect(old).toHaveLength(3)
    expect(old.map(one => one.ys.length)).toEqual([5, 5, 6])
    old.forEach(({ ys, right }, i) => {
      const middle = (lines: readonly number[]) => (lines[0]! + lines.at(-1)!) / 2
      expect(middle(ys)).toBeCloseTo(middle(modern[i]!.ys), 0)
      expect(ys[1]! - ys[0]!).toBeCloseTo(180, 0)
      expect(modern[i]!.left - right).toBeGreaterThan(180)
    })
    expect(svg).toContain(">contratenor<")
    expect(svg).toContain("&lt;b&gt;")
    expect(svg).not.toContain("\uF8F0")
  })
  test("ranges stand between clefs and meters", async () => {
    await resolutio(["score", at("piece.figurae"), "-o", at("a.svg")])
    const svg = folder.text("a.svg")
    const heads = svg
      .split('<g class="ambitus">')
      .slice(1)
      .map(part => numbers(/class="head"[^>]* d="([^"]+)"/.exec(part)![1]!))
    expect(heads).toHaveLength(3)
    const meter = numbers(/class="meterSig">\s*<use [^>]*translate\(([^)]+)/.exec(svg)![1]!)[0]!
    for (const points of heads) expect(Math.max(...points.filter((_, i) => i % 2 === 0))).toBeLessThan(meter)
  })
  test("PNG on white, and the same bytes twice", async () => {
    await resolutio(["score", at("piece.figurae"), "-o", at("a.png")])
    await resolutio(["score", at("piece.figurae"), "-o", at("b.png")])
    const [a, b] = ["a.png", "b.png"].map(name => readFileSync(at(name)))
    expect(a!.subarray(1, 4).toString("latin1")).toBe("PNG")
    expect(a!.equals(b!)).toBe(true)
  })
})
