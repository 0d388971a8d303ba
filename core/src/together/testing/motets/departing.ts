/** Spans in which a voice counts otherwise than it does elsewhere: its modus left, units carried past larger notes. */
import type { Random } from "../../../reading/testing/random.js"
import { isCell, type Cell, type Metre, type Part } from "./cells.js"
import { figured } from "./figured.js"

/** Six breves counted in twos in a voice that counts in threes, in a fourth of the voices; nothing on the page says so (observed.md). */
export function departing(cells: readonly Cell[], metre: Metre, random: Random): Cell[] {
  if (metre.repertory === "c1300" || metre.divisions[0] !== 3 || !random.chance(0.25)) return [...cells]
  const made = [...cells]
  const at = 1 + random.below(made.length - 4)
  const patterns = ["L2 L2 L2", "L2 B1 B1 L2", "L2 L2 B1 B1", "B1 B1 L2 L2"]
  const plain = [made[at - 1]!, made[at]!, made[at + 1]!, made[at + 2]!]
  // a neighbour that is not a plain span would be written otherwise here
  if (plain.some(one => one.parts.some(({ node }) => !isCell(node) && (node.red || node.dotted)))) return made
  made.splice(at, 2, figured(metre, 1, random.of(patterns), { departs: true }))
  return made
}

/** A unit that its perfection's larger note parts from its fellows, fenced by a dot (theory: carried units, s7). */
export function syncopated(metre: Metre, random: Random): readonly Cell[] | undefined {
  const [modus, tempus, prolatio] = metre.divisions
  if (metre.repertory !== "c1350" || modus !== 2 || prolatio !== 2) return undefined
  if (tempus === 2) {
    // where all is imperfect nothing changes value
    const words = random.of(["M1 S2 M1 S2 S2", "S2 M1 S2 S2 M1", "M1 S.3 S2 M1 M1"])
    return [spanned(figured({ ...metre, divisions: [2, 2, 2] }, 3, words), metre)]
  }
  return undefined
}

/** Figures of two breves as one span of the modus. */
function spanned({ parts }: Cell, { divisions }: Metre): Cell {
  return { level: 1, parts: parts.map((part, i): Part => ({ ...part, units: i === 0 ? divisions[0] : 0 })) }
}
