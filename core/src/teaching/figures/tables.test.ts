/** Tables and trees hold what the published tables hold, though everything in them was read by the engine. */
import { describe, expect, test } from "vitest"
import { toText } from "../../base/index.js"
import { divisionTrees } from "./tables/trees.js"
import { ligatureTable } from "./tables/ligatures.js"
import { proportionTable } from "./tables/proportions.js"
import { restTable } from "./tables/rests.js"
import { drawFigure, figureSize } from "../index.js"
import { marksIn, textsIn } from "./testing/marks.js"

describe("division trees: Tractatus de regulari valore notarum, 1470s, 16-31", () => {
  // modus maior, modus minor, tempus, prolatio: maxima, long, breve, semibreve in minims
  test.each([
    ["3 3 3 3", "81 27 9 3"],
    ["3 2 3 3", "54 18 9 3"],
    ["2 3 3 3", "54 27 9 3"],
    ["2 2 3 3", "36 18 9 3"],
    ["3 3 2 3", "54 18 6 3"],
    ["3 2 2 3", "36 12 6 3"],
    ["2 3 2 3", "36 18 6 3"],
    ["2 2 2 3", "24 12 6 3"],
    ["3 3 3 2", "54 18 6 2"],
    ["3 2 3 2", "36 12 6 2"],
    ["2 3 3 2", "36 18 6 2"],
    ["2 2 3 2", "24 12 6 2"],
    ["3 3 2 2", "36 12 4 2"],
    ["3 2 2 2", "24 8 4 2"],
    ["2 3 2 2", "24 12 4 2"],
    ["2 2 2 2", "16 8 4 2"],
  ])("%s", (divisions, values) => {
    const [maior, minor, tempus, prolatio] = divisions.split(" ")
    const sign = `mens:modusmaior=${maior}:modus=${minor}:tempus=${tempus}:prolatio=${prolatio}`
    for (const name of ["ars-nova", "white"]) {
      const trees = divisionTrees([sign], { name })
      if (!trees.ok) throw new Error(trees.problems[0]!.what)
      const { levels } = trees.value[0]!
      expect(levels.map(one => toText(one.value)).join(" ")).toBe(`${values} 1`)
      // every row fills the whole
      for (const { count, value } of levels) expect((count * value.num) / value.den).toBe(levels[0]!.value.num)
    }
  })
  test("a tree shows as many signs and counts as there are", () => {
    const figure = drawFigure({ kind: "division-tree", signs: ["O."] })
    if (!figure.ok) throw new Error("tree")
    const marks = marksIn(figure.value.pictures[0]!.scene)
    const counts = textsIn(marks)
      .filter(one => one.mark.part === "count")
      .map(one => one.mark.text)
    expect(counts).toEqual(["9", "3", "3", "3", ...Array.from({ length: 9 }, () => "1")])
    expect(marks.filter(one => one.mark.part === "head")).toHaveLength(13)
    const bands = marks.filter(one => one.mark.part === "band")
    const widths = [...new Set(bands.map(one => Math.round(one.box.right - one.box.left)))]
    expect(widths.map(one => Math.round((one / widths.at(-1)!) * 10) / 10)).toEqual([9, 3, 1])
  })
})

test("any four signs stand side by side on a slide, none of their notes in another", () => {
  const signs = [
    "O.",
    "O",
    "C.",
    "C",
    "C|",
    "O|3/2",
    "O:modus=3",
    "C.:modus=3",
    "O.:modus=3:modusmaior=3",
    "C:reversed",
  ]
  for (const four of foursOf(signs)) {
    const figure = drawFigure({ kind: "division-tree", signs: four })
    if (!figure.ok) throw new Error(`${four.join(" ")}: ${figure.problems[0]!.what}`)
    const marks = marksIn(figure.value.pictures[0]!.scene)
    // what is multiplied stands at the left edge of each tree
    const edges = new Set(textsIn(marks).flatMap(one => (one.mark.part === "sum" ? [Math.round(one.box.left)] : [])))
    expect(edges.size, four.join(" ")).toBe(4)
    const heads = marks.filter(one => one.mark.part === "head").map(one => one.box)
    const inRows = heads.sort((a, b) => Math.round(a.top) - Math.round(b.top) || a.left - b.left)
    const clear = inRows.every((one, i) => {
      const before = inRows[i - 1]
      return !before || Math.round(before.top) !== Math.round(one.top) || one.left > before.right - 1
    })
    expect(clear, four.join(" ")).toBe(true)
  }
})
function foursOf<T>(all: readonly T[]): T[][] {
  const sets: T[][] = [[]]
  for (const one of all) sets.push(...sets.filter(set => set.length < 4).map(set => [...set, one]))
  return sets.filter(set => set.length === 4)
}

/** "B L" of a cell. */
const letters = (cell: { readonly notes: readonly { readonly level: string }[] }) =>
  cell.notes.map(one => ({ maxima: "X", longa: "L", brevis: "B", semibrevis: "S" })[one.level]).join(" ")

describe("ligatures of two notes", () => {
  // Libellus cantus mensurabilis, c. 1340, 8; Practica musicae, 1496, II.5; Ars cantus mensurabilis, c. 1280, VII
  test.each(["ars-antiqua", "ars-nova", "white"])("%s", name => {
    const { rows, ends } = ligatureTable({ name })
    expect(rows.slice(0, 3).map(row => row.cells.map(letters))).toEqual([
      ["B L", "B B", "B L", "B B"],
      ["L L", "L B", "L L", "L B"],
      ["S S", "S S", "S S L", "S S"],
    ])
    expect(ends).toHaveLength(4)
    for (const row of rows) expect(row.cells).toHaveLength(4)
    // three and more: what stands in the middle is a breve
    expect(rows[3]!.cells.map(letters)).toEqual(["L B L", "B B B B", "B B L", "S S B B"])
  })
  test("later forms: Practica musicae, 1496, II.5", () => {
    const { rows } = ligatureTable({ name: "white" })
    expect(rows[4]!.cells.map(letters)).toEqual(["X L", "L X", "B L", "B B"])
  })
  test("an option of the practice changes the table: Liber de notis et pausis, 1470s, I.10", () => {
    const { rows } = ligatureTable({ name: "white", options: { obliqueAscendingInitial: "longa" } })
    expect(letters(rows[4]!.cells[3]!)).toBe("L B")
  })
  test("in white notation too one picture holds all of it on paper", () => {
    const figure = drawFigure({ kind: "ligature-table", practice: { name: "white" }, size: figureSize("a4")! })
    if (!figure.ok) throw new Error("table")
    expect(figure.value.pictures).toHaveLength(1)
  })
  test("the name of a row stands at the middle of its staff; the first staff keeps clear of the rule", () => {
    const figure = drawFigure({ kind: "ligature-table", practice: { name: "ars-nova" } })
    if (!figure.ok) throw new Error("table")
    const marks = marksIn(figure.value.pictures[0]!.scene)
    const middle = ({ box }: (typeof marks)[number]) => (box.top + box.bottom) / 2
    const staves = [...new Set(marks.filter(one => one.mark.part === "staff").map(middle))].sort((a, b) => a - b)
    const names = textsIn(marks).filter(({ mark }) => mark.part === "name" && /propriety|more/.test(mark.text))
    expect(staves).toHaveLength(names.length)
    // the name and what it says under it: the middle is between their lines
    names.forEach((name, i) => expect(Math.abs(name.box.bottom - staves[i]!)).toBeLessThan(12))
    const rule = marks.find(one => one.mark.part === "table-line")!
    const first = Math.min(...marks.filter(one => one.mark.part === "staff").map(one => one.box.top))
    expect(first - rule.box.bottom).toBeGreaterThan(18)
  })
  test("as many heads as notes: the written form and its notes apart", () => {
    const figure = drawFigure({ kind: "ligature-table", practice: { name: "ars-antiqua" } })
    if (!figure.ok) throw new Error("table")
    const marks = figure.value.pictures.flatMap(one => marksIn(one.scene))
    expect(marks.filter(one => one.mark.part === "arrow")).toHaveLength(16)
    expect(marks.filter(one => one.mark.part === "head" && one.mark.fill === "second")).toHaveLength(
      ligatureTable({ name: "ars-antiqua" }).rows.flatMap(row => row.cells.flatMap(cell => cell.notes)).length,
    )
  })
})

describe("what stands in rows stands in line", () => {
  const marksOf = (kind: string) => {
    const figure = drawFigure({ kind, practice: { name: "white" } })
    if (!figure.ok) throw new Error(kind)
    return marksIn(figure.value.pictures[0]!.scene)
  }
  test("proportions: ratios and names, whether there are figures or a stroke", () => {
    const texts = textsIn(marksOf("proportions"))
    for (const part of ["ratio", "name"]) {
      const lefts = texts.filter(({ mark }) => mark.part === part).map(({ box }) => Math.round(box.left))
      expect(lefts.length).toBeGreaterThan(3)
      expect(new Set(lefts).size).toBe(1)
    }
  })
  test("dots: staves side by side, whether there are stems or not", () => {
    const tops = marksOf("dots")
      .filter(({ mark }) => mark.part === "staff")
      .map(({ box }) => Math.round(box.top))
    expect(tops).toHaveLength(4)
    expect(new Set(tops).size).toBe(2)
  })
})

describe("rests", () => {
  test("later: Libellus cantus mensurabilis, c. 1340, 10", () => {
    const { columns } = restTable({ name: "ars-nova" })
    expect(columns.map(one => one.worth.join(" "))).toEqual([
      "27 18 18 12",
      "18 12 12 8",
      "9 6 6 4",
      "3 2 3 2",
      "1 1 1 1",
      "½ ½ ½ ½",
      "¼ ¼ ¼ ¼",
    ])
  })
  test("earlier: Ars cantus mensurabilis, c. 1280, IX", () => {
    const { columns } = restTable({ name: "ars-antiqua" })
    expect(columns.map(one => one.worth[0])).toEqual(["3", "2", "1", "⅔", "⅓", ""])
  })
  test("strokes are as long as their name says, in staff spaces", () => {
    const figure = drawFigure({ kind: "rests", practice: { name: "ars-antiqua" } })
    if (!figure.ok) throw new Error("rests")
    const rests = marksIn(figure.value.pictures[0]!.scene).filter(one => one.mark.part === "rest")
    const spaces = rests.map(one => (one.box.bottom - one.box.top) / one.scale)
    expect(spaces.map(one => Math.round(one * 100) / 100)).toEqual([3, 2, 1, 0.67, 0.33])
  })
})

describe("proportions: Practica musicae, 1496, IV", () => {
  test("ratios, durations and numbers of notes", () => {
    const table = proportionTable(["C", "3/2", "4/3", "C|", "3/1", "C.", "2/3"], { name: "white" })
    if (!table.ok) throw new Error(table.problems[0]!.what)
    expect(table.value.lanes.map(one => [toText(one.ratio), toText(one.duration), one.count].join(" "))).toEqual([
      "1 2 6",
      "3/2 4/3 9",
      "4/3 3/2 8",
      "2 1 12",
      "3 2/3 18",
      "1 3 4",
      "2/3 3 4",
    ])
  })
  test("the reversed half circle by practice", () => {
    const ratio = (name: string) => {
      const table = proportionTable(["C:reversed"], { name })
      return table.ok ? toText(table.value.lanes[0]!.ratio) : ""
    }
    expect([ratio("ars-nova"), ratio("white")]).toEqual(["4/3", "2"])
  })
})

describe("dots and coloration say what the engine reads", () => {
  test("with the dot and without it", () => {
    const figure = drawFigure({ kind: "dots" })
    if (!figure.ok) throw new Error("dots")
    const { description } = figure.value.pictures[0]!.scene
    expect(description).toContain(
      "Division: breve 4, semibreve with a dot 2, semibreve 2, breve 4. Without the dot: breve 6",
    )
    expect(description).toContain("Addition: breve with a dot 6, semibreve 2, breve 4. Without the dot: breve 4")
    const counts = textsIn(marksIn(figure.value.pictures[0]!.scene)).filter(one => one.mark.part === "count")
    const told = [...description.matchAll(/ (\d+)(?=[,.;])/g)].map(one => one[1]!)
    expect(counts.map(one => one.mark.text).sort()).toEqual(told.sort())
  })
  test.each([
    [
      "ars-nova",
      ["breve 6, breve 4, breve 4, breve 4, breve 6", "semibreve 4/3, semibreve 4/3, semibreve 4/3, breve 4"],
    ],
    [
      "white",
      ["breve 6, breve 4, breve 4, breve 4, breve 6", "breve 3, semibreve 1, breve 4", "breve 4, breve 3, breve 4"],
    ],
  ])("%s", (name, lines) => {
    const figure = drawFigure({ kind: "coloration", practice: { name } })
    if (!figure.ok) throw new Error("coloration")
    for (const line of lines) expect(figure.value.words).toContain(line)
  })
})

describe("where signs and names stand", () => {
  const marksOf = (asked: Parameters<typeof drawFigure>[0]) => {
    const figure = drawFigure(asked)
    if (!figure.ok) throw new Error(asked.kind)
    return marksIn(figure.value.pictures[0]!.scene)
  }
  test.each(["vertical", "a4", "half-column", "square"])(
    "trees in several rows have their names all beside their signs or all under them: %s",
    size => {
      const marks = marksOf({ kind: "division-tree", size: figureSize(size)! })
      const signs = marks.filter(one => one.mark.part === "mensuration")
      const names = textsIn(marks).filter(one => one.mark.part === "name")
      const beside = new Set(
        signs.map(sign => {
          const nearest = names.filter(one => one.box.bottom > sign.box.top && one.box.left >= sign.box.left - 1)
          const first = nearest.reduce((best, one) => (far(one.box, sign.box) < far(best.box, sign.box) ? one : best))
          return first.box.left > sign.box.right
        }),
      )
      expect(signs).toHaveLength(4)
      expect(beside.size).toBe(1)
    },
  )
  const far = (a: { left: number; top: number }, b: { left: number; top: number }) =>
    Math.abs(a.left - b.left) + Math.abs(a.top - b.top)
  test.each(["vertical", "half-column"])("figures of a proportion keep clear of the notes under them: %s", size => {
    const marks = marksOf({ kind: "proportions", size: figureSize(size)! })
    const notes = marks.filter(one => one.mark.part === "head")
    const signs = marks.filter(one => one.mark.part === "figure" || one.mark.part === "mensuration")
    expect(signs.length).toBeGreaterThan(5)
    for (const { box } of signs) {
      const under = notes.filter(one => one.box.top > box.top && one.box.left < box.right && one.box.right > box.left)
      expect(Math.min(...under.map(one => one.box.top)) - box.bottom).toBeGreaterThan(10)
    }
  })
  test("clefs in white notation are those of its pages", () => {
    const [black, white] = ["ars-nova", "white"].map(name => {
      const [clef] = marksOf({ kind: "coloration", practice: { name } }).filter(one => one.mark.part === "clef")
      return clef?.mark.shape === "path" ? clef.mark.path.filter(([command]) => command === "M").length : 0
    })
    expect(white).toBeGreaterThan(black!)
  })
})
