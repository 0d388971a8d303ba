import { describe, expect, test } from "vitest"
import { fromText } from "../../base/index.js"
import { readPage } from "../../reading/index.js"
import { parseShorthand } from "../../page/shorthand/index.js"
import { DEMOS, demoPiece } from "../../score/testing/demos.js"
import { PIECES } from "../../score/testing/pieces.js"
import { ratio, type Rational } from "../../base/index.js"
import { CSV_COLUMNS, csvCannotCarry, readingsCsv } from "./index.js"

/** By RFC 4180: cells parted by commas, quotes doubled in quoted cells, records ended by CR LF. */
function parsed(text: string): string[][] {
  const rows: string[][] = []
  let row: string[] = []
  let rest = text
  while (rest !== "") {
    const found = /^(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/.exec(rest)
    if (!found) throw new Error(`no cell at “${rest.slice(0, 40)}”`)
    row.push(found[1]?.replaceAll('""', '"') ?? found[2]!)
    rest = rest.slice(found[0].length)
    if (found[3] === "\r\n") {
      rows.push(row)
      row = []
    }
  }
  return rows
}

const read = (text: string) => {
  const page = parseShorthand(text, "test")
  if (!page.ok) throw new Error(page.problems[0]!.what)
  return { page: page.value, readings: readPage(page.value) }
}

describe("readingsCsv", () => {
  test.each(DEMOS)("%s: a line for each sign, with its time as it is read", name => {
    const { readings } = demoPiece(name)
    const [head, ...rows] = parsed(readingsCsv(readings))
    expect(head).toEqual(CSV_COLUMNS)
    const signs = readings.flatMap(reading => reading.signs)
    const column = (name: (typeof CSV_COLUMNS)[number]) => rows.map(row => row[CSV_COLUMNS.indexOf(name)]!)
    expect(column("id")).toEqual(signs.map(sign => sign.id))
    expect(column("onset").map(fromText)).toEqual(signs.map(sign => sign.onset))
    expect(column("duration").map(fromText)).toEqual(signs.map(sign => sign.duration))
    expect(column("rule")).toEqual(signs.map(sign => sign.rule))
    expect(new Set(rows.map(row => row.length))).toEqual(new Set([CSV_COLUMNS.length]))
  })
  test("one line in full", () => {
    const { readings } = read("voice cantus practice=ars-nova\nO B c4 S d4 B e4 c4\n")
    expect(readingsCsv(readings).split("\r\n")[2]).toMatch(
      /^cantus 1,1\.\d+,brevis,c4,0,4,half,imperfecta,imperfectio-a-parte-post,voice,[\d.]+,.*,note,minima,0,4,,$/,
    )
  })
  test("modern values at another reduction", () => {
    const { readings } = read("voice cantus practice=ars-nova\nO B c4 S d4 B e4 c4\n")
    expect(parsed(readingsCsv(readings, { reduction: 2 }))[2]![CSV_COLUMNS.indexOf("modern value")]).toBe("whole")
  })
  test("names with commas, quotes and line ends, and what a spreadsheet would take for a formula", () => {
    const { readings } = PIECES.strokeForAll()
    const label = '=HYPERLINK("x"),\r\n1'
    const [, first] = parsed(readingsCsv([{ ...readings[0]!, label }]))
    expect(first![0]).toBe(`'${label} 1`)
    const [, plain] = parsed(readingsCsv([{ ...readings[0]!, label: "a, b “c” =d" }]))
    expect(plain![0]).toBe("a, b “c” =d 1")
  })
  test("a file as first column; without names of columns", () => {
    const { readings } = PIECES.strokeForAll()
    const rows = parsed(readingsCsv(readings, { file: "a.mei", head: false }))
    expect(rows.every(row => row[0] === "a.mei" && row.length === CSV_COLUMNS.length + 1)).toBe(true)
    expect(parsed(readingsCsv([], { file: "a.mei" }))).toEqual([["file", ...CSV_COLUMNS]])
  })
})

test("a plica has its share, where the reading gives one, and its own pitch; open where it gives none", () => {
  const { readings } = read("voice v black practice=ars-antiqua\nclef:C4 L a3\\up B g L f\n")
  const own = readings[0]!.signs.find(sign => sign.plica)!.plica!
  const known = (duration: Rational | null) =>
    parsed(
      readingsCsv([
        {
          ...readings[0]!,
          signs: readings[0]!.signs.map(one => (one.plica ? { ...one, plica: { ...own, duration } } : one)),
        },
      ]),
    ).map(row => row.slice(-2))
  expect(known(ratio(3, 2)).filter(([share]) => share !== "")).toEqual([
    CSV_COLUMNS.slice(-2),
    ["3/2", own.pitch ?? ""],
  ])
  expect(known(null).filter(([share]) => share !== "")).toEqual([CSV_COLUMNS.slice(-2), ["open", own.pitch ?? ""]])
})
test("what it cannot carry is told of what there is", () => {
  const { page, readings } = read("voice v black practice=ars-antiqua\nclef:C4 L a3\\up B g L f\n")
  const told = csvCannotCarry(page, readings)
  expect(told).not.toContainEqual(expect.stringContaining("plica"))
  expect(told).not.toContainEqual(expect.stringContaining("voices meet"))
})
