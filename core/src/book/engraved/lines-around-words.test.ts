import { describe, expect, test } from "vitest"
import { toXml } from "../../formats/xml.js"
import { withLinesAroundWords } from "./lines-around-words.js"
import { readSvg } from "./svg-tree.js"

const system = (x: number, word = "vient") =>
  readSvg(
    `<g class="system"><g class="syl"><text x="1000" y="500"><tspan font-size="400px">${word}</tspan></text></g>` +
      `<g class="barLine"><path d="M${x} 0 L${x} 1000"/><path d="M${x} 2000 L${x} 3000"/></g></g>`,
  )
const lines = (x: number, word?: string) =>
  [...toXml(withLinesAroundWords(system(x, word))).matchAll(/d="([^"]*)"/g)].map(([, d]) => d)

test("a line through a word is cut above and below its letters", () => {
  const [above, below, other] = lines(1200)
  expect(above).toMatch(/^M1200 0 L1200 1(5|6)\d/)
  expect(below).toMatch(/^M1200 6\d\d.* L1200 1000$/)
  expect(other).toBe("M1200 2000 L1200 3000")
})
test("one that only touches it too; one beside it stays whole", () => {
  expect(lines(980)).toHaveLength(3)
  expect(lines(900)).toHaveLength(2)
  expect(lines(1200, "i")).toHaveLength(2)
})

describe("a hyphen", () => {
  const hyphen = (x: number, line: number, last = 3000) =>
    toXml(
      withLinesAroundWords(
        readSvg(
          `<g class="system"><g class="syl"><text x="1000" y="500"><tspan font-size="400px">ni</tspan></text>` +
            `<rect x="${x}" y="420" height="22" width="150"/></g>` +
            `<g class="barLine"><path d="M${line} 0 L${line} 1000"/></g><g class="barLine"><path d="M${last} 0 L${last} 1000"/></g></g>`,
        ),
      ),
    )
  test("goes before the line that ends a system, which stays whole", () => {
    const svg = hyphen(1450, 1610, 1610)
    expect(svg).toContain('<rect x="1406"')
    expect(svg).toContain('d="M1610 0 L1610 1000"')
  })
  test("goes behind a line within a system where that is nearer", () => {
    const svg = hyphen(1500, 1510)
    expect(svg).toContain('<rect x="1564"')
    expect(svg).toContain('d="M1510 0 L1510 1000"')
  })
  test("stays, and the line is cut, where a word is in the way", () => {
    const svg = hyphen(1300, 1390, 1390)
    expect(svg).toContain('<rect x="1300"')
    expect(svg.match(/M1390 /g)!.length).toBeGreaterThan(2)
  })
})
