import { expect, test } from "vitest"
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
