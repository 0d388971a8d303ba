/** Other ways through a block, as rivals of the whole voice: told by what they change. */
import { ticksOf, type Decided } from "./choices.js"
import type { Edge } from "./lattice-parts.js"

const MOST_PATHS = 12

export interface Path {
  readonly cost: number
  /** Figure (counted from the beginning of its block) to its duration in ticks, where it differs from the chosen path. */
  readonly changes: readonly (readonly [figure: number, ticks: number])[]
}

/** An edge off the chosen path, with what the cheapest way through it costs more. */
export interface Detour {
  readonly edge: Edge
  readonly cost: number
}

/** For each candidate edge the cheapest path of the block through it, told by what it changes. */
export function pathsThrough(
  candidates: Detour[],
  decisions: readonly Decided[],
  from: number,
  chosen: ReadonlySet<Edge>,
): Path[] {
  if (candidates.length === 0) return NONE
  const found: Path[] = []
  if (candidates.length > 1) candidates.sort((a, b) => a.cost - b.cost)
  for (const { edge, cost } of candidates.slice(0, 2 * MOST_PATHS)) {
    if (found.length >= MOST_PATHS) break
    const changes = changesOn(edge, decisions, from, chosen)
    if (changes.length > 0 && !found.some(path => isSame(path.changes, changes))) found.push({ cost, changes })
  }
  return found
}
const NONE: Path[] = []

const isSame = (a: Path["changes"], b: Path["changes"]): boolean =>
  a.length === b.length && a.every(([at, ticks], i) => at === b[i]![0] && ticks === b[i]![1])

// what is found is put together here, and then copied: a list that grows has room for many more
const changed: [number, number][] = []
const way: Edge[] = []

function changesOn(
  edge: Edge,
  decisions: readonly Decided[],
  from: number,
  chosen: ReadonlySet<Edge>,
): [number, number][] {
  const steps = layWay(edge, chosen)
  let count = 0
  for (let n = 0; n < steps; n++) {
    const step = way[n]!
    const { figure, length } = step
    for (let member = 0; member < length; member++) {
      const at = figure + member - from
      const ticks = ticksOf(step, member)
      if (decisions[at]!.ticks !== ticks) changed[count++] = [at, ticks]
    }
  }
  return changed.slice(0, count)
}

/** Lays the cheapest way through the edge into `way`, as far as it leaves the chosen one; gives the number of its steps. */
function layWay(edge: Edge, chosen: ReadonlySet<Edge>): number {
  let count = 0
  for (let step = edge.from.via; step !== undefined && !chosen.has(step); step = step.from.via) count++
  way[count] = edge
  for (let n = count, step = edge.from.via; n > 0; step = step!.from.via) way[--n] = step!
  count++
  for (let step = edge.to.next; step !== undefined && !chosen.has(step); step = step.to.next) way[count++] = step
  return count
}
