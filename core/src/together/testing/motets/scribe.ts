/** A scribe: puts dots into the figures of a voice where its own count would go wrong without them, and joins ligatures. */
import type { Random } from "../../../reading/testing/random.js"
import { cellFrom, isCell, levelOf, type Cell, type Metre, type Part } from "./cells.js"
import { firstMistaken, type Counted, type GroupRule } from "./counted.js"
import type { Figure } from "./figures.js"
import { lengthOf } from "./in-all-voices.js"

export interface ScribeHabits {
  /** Share of the boundaries between groups of semibreves that bear a dot. */
  readonly dotted: number
  /** Share of the dots of division that are left out though the count goes wrong without. */
  readonly careless: number
  readonly ligatures: number
}

/** A figure as the count of one level sees it, and where it stands in the tree. */
interface Token extends Counted {
  /** Cell of the top level. */
  readonly top: number
  /** Last figure of it, if a dot after it may part perfections of the level. */
  readonly dottable: Figure | undefined
  readonly endsPerfection: boolean
}

/** Figures of a voice in order, with the dots its scribe would write. */
export function written(cells: readonly Cell[], metre: Metre, habits: ScribeHabits, random: Random): readonly Figure[] {
  let tree = withoutUnwritable([...cells], metre)
  const dots = new Set<Figure>()
  for (const level of [3, 2, 1])
    if (metre.divisions[level - 1] === 3 && (level === 1 || metre.repertory === "c1350"))
      tree = parted(tree, level, metre, dots, habits, random)
  return grouped(tree, dots, habits, random)
}

const figuresOf = (cells: readonly Cell[]): Figure[] =>
  cells.flatMap(cell => cell.parts.flatMap(({ node }) => (isCell(node) ? figuresOf([node]) : [node])))

const MOST_DOTS = 200

function parted(
  given: readonly Cell[],
  level: number,
  metre: Metre,
  dots: Set<Figure>,
  { careless }: ScribeHabits,
  random: Random,
): Cell[] {
  const cells = [...given]
  const rule: GroupRule = level === 1 ? "first-imperfect" : "by-threes"
  const skipped = new Set<Figure>()
  for (let i = 0; i < MOST_DOTS; i++) {
    const line = tokensOf(cells, level, new Set([...dots, ...skipped]))
    const at = firstMistaken(line, rule)
    if (at === undefined) break
    const place = dotFor(line, at)
    if (place === undefined) {
      // a stretch of other length than a span cannot be a plain long: it stays as it is, and lacks its dot
      if (lengthOf([cells[line[at]!.top]!], metre) !== metre.divisions[0]) break
      cells[line[at]!.top] = cellFrom("x" + metre.divisions[0], metre, 1)
    } else if (random.chance(careless)) skipped.add(place)
    else dots.add(place)
  }
  return cells
}

/** The end of the perfection before the mistake, or of that in which it is. */
function dotFor(line: readonly Token[], at: number): Figure | undefined {
  for (let i = at - 1; i >= 0; i--)
    if (line[i]!.endsPerfection) {
      if (!line[i]!.parted && line[i]!.dottable) return line[i]!.dottable
      break
    }
  const end = line.findIndex((one, i) => i >= at && one.endsPerfection)
  return end >= 0 && !line[end]!.parted ? line[end]!.dottable : undefined
}

function tokensOf(cells: readonly Cell[], level: number, dots: ReadonlySet<Figure>): Token[] {
  const tokens: Token[] = []
  cells.forEach((cell, top) => collect(cell, level, dots, top, tokens))
  return tokens
}

function collect(cell: Cell, level: number, dots: ReadonlySet<Figure>, top: number, tokens: Token[]): void {
  cell.parts.forEach(({ units, node }, i) => {
    const ends = i === cell.parts.length - 1
    if (isCell(node) && cell.level < level) return collect(node, level, dots, top, tokens)
    if (isCell(node)) {
      const last = figuresOf([node]).at(-1)!
      const dottable = levelOf(last) <= level + 1 ? last : undefined
      tokens.push({
        role: "unit",
        units: 1,
        alterable: false,
        parted: dottable !== undefined && dots.has(last),
        top,
        dottable,
        endsPerfection: ends,
      })
      return
    }
    const at = levelOf(node)
    const altered = cell.level < level && units === 2 && at === cell.level + 1
    const role =
      node.red || node.departs || at < level || altered ? "wall" : at > level ? "unit" : node.rest ? "rest" : "larger"
    const whole = role === "larger" && cell.level < level ? 3 : units
    const dottable = role === "wall" || node.adds || (role === "larger" && whole !== 3) ? undefined : node
    const remote = role === "unit" && cell.level < level
    tokens.push({
      role,
      units: remote ? 1 : role === "rest" && cell.level < level ? 3 : whole,
      alterable: role === "unit" && !node.rest,
      parted: dots.has(node) && role !== "wall",
      top,
      dottable,
      endsPerfection: ends || (cell.level < level && !remote),
    })
  })
}

/** Patterns that no scribe could write where they stand are replaced by a plain one. */
function withoutUnwritable(cells: Cell[], metre: Metre): Cell[] {
  return cells.map((cell, i) => writable(cell, startsOf(cells[i + 1]), metre))
}

/** How the next thing begins: its level, and whether it is there at all. */
const startsOf = (cell: Cell | undefined): Figure | undefined => (cell ? figuresOf([cell])[0] : undefined)

function writable(cell: Cell, next: Figure | undefined, metre: Metre): Cell {
  const perfect = metre.divisions[cell.level - 1] === 3
  const parts = cell.parts.map((part, i): Part => {
    if (!isCell(part.node)) return part
    const following = cell.parts[i + 1]
    const after = following ? firstOf(following) : next
    return metre.repertory === "c1350" ? { ...part, node: writable(part.node, after, metre) } : part
  })
  const last = parts.at(-1)!
  if (!perfect || isCell(last.node) || last.units !== 2 || last.node.rest || last.node.red || last.node.departs)
    return { ...cell, parts }
  const nextIs = next && levelOf(next) - cell.level
  const altered = levelOf(last.node) === cell.level + 1
  // an altered note stands before the next larger one; at the lower levels a larger one before its like is perfect
  if (altered && nextIs !== 0) return cellOfUnits(cell.level, metre)
  if (!altered && nextIs === 0 && cell.level > 1) return cellOfUnits(cell.level, metre)
  return { ...cell, parts }
}

const firstOf = ({ node }: Part): Figure => (isCell(node) ? figuresOf([node])[0]! : node)
const cellOfUnits = (level: number, metre: Metre): Cell => cellFrom("b b b", metre, level)

/** How much seldomer a boundary goes without its dot where the run would then be cut otherwise (40 to 4, observed.md). */
const UNUSUAL = 8

/** Figures in order; dots and words show where groups of semibreves begin, mostly. */
function grouped(tree: readonly Cell[], dots: ReadonlySet<Figure>, habits: ScribeHabits, random: Random): Figure[] {
  const nodes = tree.flatMap(cell => cell.parts.map(part => part.node))
  let ligature = 0
  return nodes.flatMap((node, i) => {
    if (!isCell(node) || node.parts[0]!.units !== 0)
      return figuresOf([{ level: 1, parts: [{ units: 1, node }] }]).map(figure =>
        dots.has(figure) ? { ...figure, dotted: true } : figure,
      )
    const group = figuresOf([node])
    const texted = random.chance(group.length > 3 ? 0.9 : 0.3)
    // a stretch in which every note has its syllable is nearly always one breve: a scribe of two would part them
    const alike = texted && group.length <= 3
    const bound =
      group.length === 2 &&
      !texted &&
      !group[0]!.stemDown &&
      !group.some(one => one.rest) &&
      random.chance(habits.ligatures)
        ? ligature++
        : undefined
    const next = nodes[i + 1]
    const size = next && isCell(next) ? next.parts.length : 0
    const usual = size === 2 || (size === 3 && group.length === 3) || (group.length === 3 && size <= 2)
    const omitted = (1 - habits.dotted) / (usual ? 1 : UNUSUAL)
    const dotted = size > 0 && (alike || !random.chance(omitted))
    return group.map((figure, at) => ({
      ...figure,
      ...(bound !== undefined && { ligature: bound }),
      ...(at > 0 && !texted && { melisma: true }),
      ...(at === group.length - 1 && dotted && { dotted: true }),
    }))
  })
}
