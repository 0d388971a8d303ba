import { expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage, type Reading } from "../reading/index.js"
import { readTogether } from "./index.js"

/** A talea in perfect modus. With a dot after the first long its breves can only be read in one way. */
const talea = (dot: string) => `L d3 ${dot} B e3 f3 e3 d3 c3 L d3 B c3 d3 e3 L f3 r d3 B e3 f3 e3 L d3 r`
const page = () => {
  const read = parseShorthand(
    `title: Three taleae, one without its dot (invented)
voice tenor black practice=ars-nova
clef:C3 mens:modus=3:tempus=2:prolatio=2
${talea(".")} ${talea("")} ${talea(".")} L d3`,
  )
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

test("a statement of a tenor that may be read two ways is read as its fellows are", () => {
  const of = (readings: readonly Reading[]) =>
    readings[0]!.signs.filter(sign => sign.number > 0).map(sign => toText(sign.duration))
  const alone = of(readPage(page()))
  const all = of(readTogether(page()).readings)
  const length = (alone.length - 1) / 3
  const statement = (of: readonly string[], n: number) => of.slice(n * length, (n + 1) * length).join(" ")
  expect(statement(alone, 1)).not.toBe(statement(alone, 0))
  expect(statement(all, 1)).toBe(statement(all, 0))
  expect(statement(all, 2)).toBe(statement(all, 0))
  const decided = readTogether(page()).readings[0]!.signs.filter(sign => sign.others?.how === "repeat")
  expect(decided.map(sign => sign.decidedBy)).toContain("others")
})
