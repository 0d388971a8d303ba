/** What stands over a division tree: its sign, its names, and what is multiplied. */
import { textWidth, wrapped, type Item } from "../../../drawing/index.js"
import { letters, SUM, words } from "../letters.js"
import { drawOwn, isWhite, signsIn, type PracticeWish } from "../own-signs.js"
import type { DivisionTree, TreeLevel } from "./trees.js"

export interface Head {
  readonly items: readonly Item[]
  readonly height: number
  readonly named: boolean
}

/** A tree with the room that its head has from its left edge on. */
export interface RoomyTree {
  readonly tree: DivisionTree
  readonly room: number
}

/** Names stand beside the signs in all rows, or under all of them, smaller where a tree is very narrow. */
export function drawHeads(rows: readonly (readonly RoomyTree[])[], practice: PracticeWish): Head[][] {
  const forms = [
    { size: 27, under: false },
    { size: 27, under: true },
    { size: SMALL_NAME, under: true },
  ]
  const all = forms.map(form => rows.map(row => row.map(({ tree, room }) => drawHead(tree, room, form, practice))))
  return all.find(heads => heads.flat().every(one => one.named)) ?? all.at(-1)!
}

/** The sign, its names, and what is multiplied. */
function drawHead(
  { sign, names, levels }: DivisionTree,
  room: number,
  { size, under }: { size: number; under: boolean },
  practice: PracticeWish,
): Head {
  const written = signsIn(`${sign} B o`, isWhite(practice)).filter(one => one.kind === "mensuration")
  const drawn = drawOwn(written, { lines: 1 })
  const space = 27
  const wide = (drawn.box.right - drawn.box.left) * space
  const at = { x: -drawn.box.left * space, y: 38 }
  const item: Item[] = wide > 0 ? [{ shape: "group", part: "sign", ...at, scale: space, content: [drawn.item] }] : []
  const named = words(size, { weight: 700 })
  const left = under || wide === 0 ? 0 : wide + 22
  const top = 28 + (under && wide > 0 ? 76 : 0)
  const lines = names.flatMap(name => wrapped(name, named, room - left))
  const marks = [
    ...lines.map((line, n) => letters(line, left, top + n * 32, named, { part: "name", fill: "red" })),
    letters(sumOf(levels), left, top + lines.length * 32 + 2, SUM, {
      part: "sum",
      fill: "ink",
    }),
  ]
  const fits = marks.every(one => one.x + one.length! <= room) && (under || lines.length === names.length)
  return { items: [...item, ...marks], height: top + lines.length * 32 + 22, named: fits }
}

/** "3 × 2 = 6". */
const sumOf = (levels: readonly TreeLevel[]): string =>
  `${levels
    .slice(1)
    .map((one, i) => one.count / levels[i]!.count)
    .join(" × ")} = ${levels.at(-1)!.count}`

/** The sign and the longest word of its names, one under another, or what is multiplied. */
export function leastHead({ names, levels }: DivisionTree): number {
  const named = words(SMALL_NAME, { weight: 700 })
  const longest = names.flatMap(name => name.split(" ")).map(word => textWidth(word, named))
  return Math.max(...longest, textWidth(sumOf(levels), SUM)) + 2
}
const SMALL_NAME = 24
