/** From a settled block of the lattice to a decision for each figure, with the chances of every other duration. */
import type { RuleId } from "../practices/index.js"
import type { Block, Edge, State } from "./lattice.js"

/** Ways rarer than this are not kept as rivals of a sign. */
const LEAST_CHANCE = 0.004
/** Ways rarer than this are not followed as rivals of the whole voice. */
const LEAST_PATH = 0.02
const MOST_PATHS = 12

export interface Alternative {
  readonly ticks: number
  readonly chance: number
  readonly cost: number
  readonly edge: Edge
  readonly member: number
}
export interface Decided {
  readonly edge: Edge
  /** Which of the edge's figures, when it is a group. */
  readonly member: number
  readonly ticks: number
  /** Chance that another duration is right. */
  readonly wrong: number
  readonly others: readonly Alternative[]
}
export interface Path {
  readonly cost: number
  /** Figure index (in the stretch) to its duration in ticks, where it differs from the chosen path. */
  readonly changes: ReadonlyMap<number, number>
}
export interface Settled {
  readonly from: number
  readonly decisions: readonly Decided[]
  readonly paths: readonly Path[]
}

/** Ticks of one figure of an edge. */
export function ticksOf(edge: Edge, member: number): number {
  if (edge.group === undefined) return edge.ticks
  const [num, den] = edge.group.parts[member]!
  return (edge.group.ticks * num) / den
}
export function ruleOf(edge: Edge, member: number): RuleId {
  return edge.group === undefined ? edge.rule : edge.group.rules[member]!
}

export function settleBlock(block: Block): Settled {
  const chosen = chosenEdges(block)
  const decisions: Decided[] = []
  const single = block.nodes.every(states => states.length <= 1 && (states[0]?.out.length ?? 0) <= 1)
  for (const edge of chosen)
    for (let member = 0; member < edge.length; member++) decisions.push({ edge, member, ticks: ticksOf(edge, member), wrong: 0, others: [] })
  if (single) return { from: block.start.node, decisions, paths: [] }
  return { from: block.start.node, ...withChances(block, decisions) }
}

function chosenEdges(block: Block): Edge[] {
  const edges: Edge[] = []
  for (let edge = block.end.via; edge !== undefined; edge = edge.from.via) edges.push(edge)
  return edges.reverse()
}

interface Tally {
  ticks: number
  mass: number
  best: number
  edge: Edge
  member: number
}

function withChances(block: Block, decisions: readonly Decided[]): { decisions: Decided[]; paths: Path[] } {
  const from = block.start.node
  const total = block.start.massAfter
  const cheapest = block.start.bestAfter
  const tallies: Tally[][] = decisions.map(() => [])
  const candidates: Edge[] = []
  for (const states of block.nodes)
    for (const state of states)
      for (const edge of state.out) {
        const chance = Math.exp(total - state.mass - edge.cost - edge.to.massAfter)
        if (!(chance > 1e-5)) continue
        const cost = state.best + edge.cost + edge.to.bestAfter - cheapest
        for (let member = 0; member < edge.length; member++) tally(tallies[edge.figure - from + member]!, ticksOf(edge, member), chance, cost, edge, member)
        if (chance > LEAST_PATH && cost > 1e-9) candidates.push(edge)
      }
  return { decisions: decisions.map((decided, i) => judge(decided, tallies[i]!)), paths: pathsThrough(candidates, decisions, from, cheapest) }
}

function tally(list: Tally[], ticks: number, chance: number, cost: number, edge: Edge, member: number): void {
  const known = list.find(t => t.ticks === ticks)
  if (known === undefined) {
    list.push({ ticks, mass: chance, best: cost, edge, member })
    return
  }
  known.mass += chance
  if (cost < known.best) {
    known.best = cost
    known.edge = edge
    known.member = member
  }
}

function judge(decided: Decided, list: readonly Tally[]): Decided {
  let all = 0
  let right = 0
  for (const one of list) {
    all += one.mass
    if (one.ticks === decided.ticks) right = one.mass
  }
  const wrong = all > 0 ? Math.max(0, 1 - right / all) : 0
  const others = list
    .filter(one => one.ticks !== decided.ticks && one.mass > LEAST_CHANCE)
    .map(one => ({ ticks: one.ticks, chance: one.mass, cost: Math.max(0, one.best), edge: one.edge, member: one.member }))
    .sort((a, b) => a.cost - b.cost)
  return { ...decided, wrong, others }
}

/** For each candidate edge the cheapest path of the block through it, told by what it changes. */
function pathsThrough(candidates: readonly Edge[], decisions: readonly Decided[], from: number, cheapest: number): Path[] {
  const found = new Map<string, Path>()
  for (const edge of candidates.toSorted((a, b) => pathCost(a) - pathCost(b))) {
    if (found.size >= MOST_PATHS) break
    const changes = new Map<number, number>()
    for (const step of pathOf(edge))
      for (let member = 0; member < step.length; member++) {
        const at = step.figure + member
        const ticks = ticksOf(step, member)
        if (decisions[at - from]!.ticks !== ticks) changes.set(at, ticks)
      }
    const key = [...changes].map(([at, ticks]) => `${at}:${ticks}`).join(" ")
    if (changes.size > 0 && !found.has(key)) found.set(key, { cost: pathCost(edge) - cheapest, changes })
  }
  return [...found.values()]
}

const pathCost = (edge: Edge): number => edge.from.best + edge.cost + edge.to.bestAfter

function pathOf(edge: Edge): Edge[] {
  const before: Edge[] = []
  for (let step = edge.from.via; step !== undefined; step = step.from.via) before.push(step)
  const path = before.reverse()
  path.push(edge)
  for (let state: State = edge.to; state.next !== undefined; state = state.next.to) path.push(state.next)
  return path
}
