/** Where division trees stand: in how many columns, how wide a minim is, and what stands over each. */
import { toNumber } from "../../../base/index.js"
import type { Room } from "../frame.js"
import type { PracticeWish } from "../own-signs.js"
import { drawHeads, leastHead, type Head } from "./tree-heads.js"
import type { DivisionTree } from "./trees.js"

export interface Grid {
  /** Units in a minim. */
  readonly scale: number
  readonly rows: readonly GridRow[]
  /** Whether all names have room. */
  readonly named: boolean
}

export interface GridRow {
  readonly trees: readonly PlacedTree[]
  /** Height of what stands over the trees. */
  readonly headRoom: number
}
export interface PlacedTree {
  readonly tree: DivisionTree
  readonly x: number
  readonly head: Head
}

/** In one column and more; where names are wider than a tree it may have a wider place, and all are drawn a little smaller. */
export function gridsFor(trees: readonly DivisionTree[], practice: PracticeWish, room: Room): Grid[] {
  const columns = Array.from({ length: trees.length }, (_, i) => i + 1)
  const places = [trees.map(() => 0), trees.map(leastHead)]
  return places.flatMap(least => columns.map(n => gridOf(trees, n, least, practice, room)))
}

const minimsOf = ({ levels }: DivisionTree): number => toNumber(levels[0]!.value)
const besideIn = ({ width }: Room): number => (width > 1300 ? 64 : 44)
const WIDEST_MINIM = 110

function gridOf(
  trees: readonly DivisionTree[],
  columns: number,
  least: readonly number[],
  practice: PracticeWish,
  room: Room,
): Grid {
  const starts = Array.from({ length: Math.ceil(trees.length / columns) }, (_, row) => row * columns)
  const cut = starts.map(from => ({
    row: trees.slice(from, from + columns),
    places: least.slice(from, from + columns),
  }))
  const scales = cut.map(({ row, places }) =>
    scaleOf(row.map(minimsOf), places, room.width - besideIn(room) * (row.length - 1)),
  )
  const scale = Math.min(...scales, WIDEST_MINIM)
  const widths = cut.map(({ row, places }) => row.map((tree, i) => Math.max(minimsOf(tree) * scale, places[i]!)))
  const heads = drawHeads(
    cut.map(({ row }, n) => row.map((tree, i) => ({ tree, room: headRoom(row, widths[n]!, i, room) }))),
    practice,
  )
  const rows = cut.map(({ row }, n) => rowOf(row, widths[n]!, heads[n]!, room))
  return { scale, rows, named: rows.every(row => row.trees.every(({ head }) => head.named)) }
}

/** Behind the last of a row nothing stands: its names may reach to the margin. */
function headRoom(row: readonly DivisionTree[], wide: readonly number[], at: number, room: Room): number {
  if (at < row.length - 1) return wide[at]! + besideIn(room) * 0.6
  const before = wide.slice(0, at).reduce((sum, own) => sum + own + besideIn(room), 0)
  return Math.max(wide[at]! + 2, room.width - before)
}

function rowOf(row: readonly DivisionTree[], wide: readonly number[], heads: readonly Head[], room: Room): GridRow {
  const beside = besideIn(room)
  let x = room.left
  const trees = row.map((tree, i) => {
    const placed = { tree, x, head: heads[i]! }
    x += wide[i]! + beside
    return placed
  })
  return { trees, headRoom: Math.max(...heads.map(one => one.height)) }
}

/** The largest at which all places together are no wider than `free`; 0 if there is none. */
function scaleOf(minims: readonly number[], least: readonly number[], free: number): number {
  // from the tree whose place is the first to grow with the scale
  const order = minims.map((_, i) => i).sort((a, b) => least[a]! / minims[a]! - least[b]! / minims[b]!)
  let [fixed, growing, scale] = [least.reduce((sum, one) => sum + one, 0), 0, 0]
  for (const i of order) {
    const from = least[i]! / minims[i]!
    if (fixed + growing * from > free) break
    fixed -= least[i]!
    growing += minims[i]!
    scale = (free - fixed) / growing
  }
  return Math.max(0, scale)
}
