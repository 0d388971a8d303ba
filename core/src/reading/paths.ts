/** Other ways through a block, as rivals of the whole voice: told by what they change. */
import { ticksOf, type Decided } from "./choices.js"
import type { Edge } from "./lattice-parts.js"

const MOST_PATHS = 12
/** So many edges off the chosen path are tried. */
const MOST_TRIED = 2 * MOST_PATHS

export interface Path {
  readonly cost: number
  /**
   * Where it differs from the chosen path: a figure (counted from the beginning of its block), its duration in ticks, the
   * next figure, and so on.
   */
  readonly changes: readonly number[]
}

/** The ticks of a block's figures with what a path changes in them. */
export function changedBy({ changes }: Pick<Path, "changes">, ticks: readonly number[]): number[] {
  const changed = ticks.slice()
  for (let n = 0; n < changes.length; n += 2) changed[changes[n]!] = changes[n + 1]!
  return changed
}

const NONE: Path[] = []

/** The edges off the chosen path with what the cheapest way through each costs more; written anew for each block. */
export class Detours {
  private readonly edges: Edge[] = []
  private readonly costs: number[] = []

  private count = 0

  /** The cheapest are kept, the cheapest first; of one cost those that came first. */
  add(edge: Edge, cost: number): void {
    const { edges, costs } = this
    let at = this.count
    if (at < MOST_TRIED) this.count++
    else if (cost >= costs[--at]!) return
    for (; at > 0 && costs[at - 1]! > cost; at--) {
      costs[at] = costs[at - 1]!
      edges[at] = edges[at - 1]!
    }
    costs[at] = cost
    edges[at] = edge
  }

  /** For each edge the cheapest path of the block through it. The next block begins with none. */
  paths(decisions: readonly Decided[], from: number): Path[] {
    const { edges, costs, count } = this
    if (count === 0) return NONE
    this.count = 0
    const found: Path[] = []
    for (let n = 0; n < count && found.length < MOST_PATHS; n++) {
      const entries = layChanges(edges[n]!, decisions, from)
      if (entries > 0 && !isKnown(found, entries)) found.push({ cost: costs[n]!, changes: laid.slice(0, entries) })
    }
    return found
  }
}

// what is found is put together here, and then copied: a list that grows has room for many more
const laid: number[] = []
const way: Edge[] = []

function isKnown(found: readonly Path[], count: number): boolean {
  for (const { changes } of found) if (changes.length === count && isLaid(changes)) return true
  return false
}

function isLaid(changes: readonly number[]): boolean {
  for (let n = 0; n < changes.length; n++) if (changes[n] !== laid[n]) return false
  return true
}

/** Lays what the cheapest way through the edge changes into `laid`; gives the number of entries. */
function layChanges(edge: Edge, decisions: readonly Decided[], from: number): number {
  const steps = layWay(edge)
  let count = 0
  for (let n = 0; n < steps; n++) {
    const { from: at, length, proposal } = way[n]!
    for (let member = 0; member < length; member++) {
      const figure = at.node + member - from
      const ticks = ticksOf(proposal, member)
      if (decisions[figure]!.ticks === ticks) continue
      laid[count++] = figure
      laid[count++] = ticks
    }
  }
  return count
}

/** Lays the cheapest way through the edge into `way`, as far as it leaves the chosen one; gives the number of its steps. */
function layWay(edge: Edge): number {
  let count = 0
  for (let step = edge.from.via; step !== undefined && !step.chosen; step = step.from.via) count++
  way[count] = edge
  for (let n = count, step = edge.from.via; n > 0; step = step!.from.via) way[--n] = step!
  count++
  for (let step = edge.to.next; step !== undefined && !step.chosen; step = step.to.next) way[count++] = step
  return count
}
