/** Ligatures by how they begin and how they end, and what the chosen practice reads in each drawn form. */
import type { Level, Ligature } from "../../../page/index.js"
import { readLine, signsIn, type PracticeWish } from "../own-signs.js"

export interface LigatureCell {
  /** In shorthand. */
  readonly written: string
  readonly notes: readonly { readonly level: Level }[]
}
export interface LigatureRow {
  readonly name: string
  readonly says: string
  readonly cells: readonly LigatureCell[]
}
export interface LigatureTable {
  readonly practice: PracticeWish
  /** Over the columns: the direction, and under it how the form ends. */
  readonly ends: readonly { readonly direction: string; readonly ending: string; readonly says: string }[]
  readonly rows: readonly LigatureRow[]
}

const ENDS = [
  { direction: "falling", ending: "with perfection", says: "square: a long" },
  { direction: "falling", ending: "without", says: "oblique: a breve" },
  { direction: "rising", ending: "with perfection", says: "over the other: a long" },
  { direction: "rising", ending: "without", says: "beside: a breve" },
]

type RowSpec = readonly [name: string, says: string, ...forms: string[]]
const BEGINNINGS: readonly RowSpec[] = [
  ["with propriety", "begins with a breve", "[d4/down(left) b3]", "[d4_/down(left) b3]", "[b3 d4:over]", "[b3 d4]"],
  ["without propriety", "begins with a long", "[d4 b3]", "[d4_ b3]", "[b3/down(right) d4:over]", "[b3/down(right) d4]"],
  [
    "opposite propriety",
    "begins with two semibreves",
    "[d4/up(left) b3]",
    "[d4_/up(left) b3]",
    "[a3/up(left) b d4:over]",
    "[b3/up(left) d4]",
  ],
]
const MORE: RowSpec = [
  "three and more",
  "breves in the middle",
  "[e4 c b3]",
  "[e4/down(left) d c_ a3]",
  "[a3 b d4:over]",
  "[b3/up(left) c4 d e]",
]
const LATER: RowSpec = [
  "later forms",
  "stems and broad heads",
  "[d4:wide b3]",
  "[d4 b3:wide]",
  "[b3 d4/up(right)]",
  "[b3_ d4]",
]

/** What the practice reads in each form. */
export function ligatureTable(practice: PracticeWish): LigatureTable {
  const specs = [...BEGINNINGS, MORE, ...(practice.name === "white" ? [LATER] : [])]
  const rows = specs.map(([name, says, ...forms]) => ({
    name,
    says,
    cells: forms.map(written => ({ written, notes: levelsIn(practice, written) })),
  }))
  return { practice, ends: ENDS, rows }
}

function levelsIn(practice: PracticeWish, written: string): { level: Level }[] {
  const { signs } = readLine(practice, `clef:C3 ${written} L a3 a`)
  const count = (signsIn(written)[0] as Ligature).members.length
  return signs
    .filter(one => one.kind === "note")
    .slice(0, count)
    .map(one => ({ level: one.level ?? "brevis" }))
}
