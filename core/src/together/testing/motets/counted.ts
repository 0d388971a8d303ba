/**
 * How a singer would count the figures of one level by the plain rules of the treatises, without hearing the others: the
 * algorithm of the Ars cantus mensurabilis, c. 1280, and its counterpart by threes (Libellus, c. 1340). A scribe of these pieces
 * puts dots where it fails.
 */

/** One figure of a level as the count sees it. */
export interface Counted {
  /** A larger note of the level; a unit; a rest of the level; what is larger still. */
  readonly role: "larger" | "unit" | "rest" | "wall"
  /** Units it is meant to fill. */
  readonly units: number
  readonly alterable: boolean
  /** A dot parts what follows from it. */
  readonly parted: boolean
}

export type GroupRule = "first-imperfect" | "by-threes"

/** Place of the first figure that would be counted otherwise than is meant; undefined where all is. */
export function firstMistaken(line: readonly Counted[], rule: GroupRule): number | undefined {
  const read: number[] = []
  let filled = 0
  for (let i = 0; i < line.length; i++) {
    const { role, units } = line[i]!
    if (role === "unit") read.push(1)
    else if (role === "larger") read.push(filled === 1 ? 2 : larger(line, i, rule))
    else read.push(units)
    const closes = role === "larger" || role === "wall" || (role === "rest" && units === 3)
    if (filled === 2 && closes) {
      if (!line[i - 1]!.alterable) return i - 1
      read[i - 1] = 2
      filled = 0
      if (role === "larger") read[i] = larger(line, i, rule)
    }
    if (role === "wall") filled = 0
    else filled = (filled + read[i]!) % 3
    if (line[i]!.parted) {
      if (filled === 2 && line[i]!.alterable && line[i + 1]?.role === "larger") read[i] = 2
      filled = 0
    }
  }
  const at = line.findIndex((one, i) => one.role !== "wall" && read[i] !== one.units)
  return at < 0 ? undefined : at
}

/** A larger note at the beginning of a perfection: whole, or without a third. */
function larger(line: readonly Counted[], at: number, rule: GroupRule): 2 | 3 {
  if (line[at]!.parted) return 3
  let count = 0
  let next = at + 1
  for (; line[next]?.role === "unit"; next++) {
    count++
    if (line[next]!.parted) break
  }
  const shut = line[next]?.role === "unit"
  if (count === 0) return line[next]?.role === "rest" && line[next]!.units === 1 ? 2 : 3
  if (count === 1) return 2
  if (count === 2) return shut || !line[next - 1]!.alterable || isShortRest(line[next]) ? 2 : 3
  if (count === 3) return 3
  return rule === "first-imperfect" ? 2 : count % 3 === 1 ? 2 : 3
}

const isShortRest = (one: Counted | undefined): boolean => one?.role === "rest" && one.units === 2
