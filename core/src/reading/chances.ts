/** The chance of each duration in a block: the sum over all paths on which a figure lasts so long. */
import { choiceOf, ticksOf, type Decided } from "./choices.js"
import type { Block, Edge } from "./lattice-parts.js"
import { pathsThrough, type Detour, type Path } from "./paths.js"

/** Ways rarer than this are not kept as rivals of a sign. */
const LEAST_CHANCE = 0.004
/** Ways rarer than this are not followed as rivals of the whole voice. */
const LEAST_PATH = 0.02
/** Ways rarer than this are not counted at all. */
const LEAST_COUNTED = 1e-5

/** What speaks for one duration of a figure. */
interface Tally {
  ticks: number
  mass: number
  best: number
  edge: Edge
  member: number
}

/** The decisions of a block with doubt and rivals, and the other ways through it. */
export function withChances(
  block: Block,
  decisions: readonly Decided[],
  chosen: ReadonlySet<Edge>,
): { decisions: Decided[]; paths: Path[] } {
  lookAhead(block)
  spreadWeights(block)
  const from = block.start.node
  const tallies: Tally[][] = decisions.map(() => [])
  const detours: Detour[] = []
  for (const states of block.nodes)
    for (const { first } of states)
      for (let edge = first; edge !== undefined; edge = edge.beside) {
        const cost = extraCost(edge, block)
        const chance = chanceOf(edge, cost, block)
        if (!(chance > LEAST_COUNTED)) continue
        for (let member = 0; member < edge.length; member++)
          tally(tallies[edge.figure - from + member]!, edge, member, chance, cost)
        if (chance > LEAST_PATH && cost > 1e-9) detours.push({ edge, cost })
      }
  return {
    decisions: decisions.map((decided, i) => judge(decided, tallies[i]!)),
    paths: pathsThrough(detours, decisions, from, chosen),
  }
}

/** What the cheapest way through the edge costs beyond the cheapest of all. */
const extraCost = ({ from, to, cost }: Edge, { start }: Block): number =>
  from.best + cost + to.bestAfter - start.bestAfter

const chanceOf = ({ from, to }: Edge, extra: number, { start }: Block): number =>
  (from.weight * to.weightAfter * Math.exp(-extra)) / start.weightAfter

/** Cheapest ways on, from the end backward. */
export function lookAhead(block: Block): void {
  for (let n = block.nodes.length - 1; n >= 0; n--)
    for (const state of block.nodes[n]!)
      for (let edge = state.first; edge !== undefined; edge = edge.beside) {
        const cost = edge.cost + edge.to.bestAfter
        if (cost < state.bestAfter) {
          state.bestAfter = cost
          state.next = edge
        }
      }
}

/** Sums of the chances of all ways to each state and on from it, each relative to its cheapest. */
function spreadWeights(block: Block): void {
  const { nodes } = block
  block.start.weight = 1
  for (const states of nodes)
    for (const from of states)
      for (let edge = from.first; edge !== undefined; edge = edge.beside)
        edge.to.weight += from.weight * Math.exp(edge.to.best - from.best - edge.cost)
  for (let n = nodes.length - 1; n >= 0; n--)
    for (const state of nodes[n]!) {
      if (state.first === undefined) {
        state.weightAfter = state.bestAfter < Infinity ? 1 : 0
        continue
      }
      if (state.bestAfter === Infinity) continue
      for (let edge: Edge | undefined = state.first; edge !== undefined; edge = edge.beside)
        if (edge.to.weightAfter > 0)
          state.weightAfter += edge.to.weightAfter * Math.exp(state.bestAfter - edge.cost - edge.to.bestAfter)
    }
}

function tally(list: Tally[], edge: Edge, member: number, chance: number, cost: number): void {
  const ticks = ticksOf(edge, member)
  for (const known of list) {
    if (known.ticks !== ticks) continue
    known.mass += chance
    if (cost < known.best) {
      known.best = cost
      known.edge = edge
      known.member = member
    }
    return
  }
  list.push({ ticks, mass: chance, best: cost, edge, member })
}

function judge(decided: Decided, list: readonly Tally[]): Decided {
  if (list.length <= 1) return decided
  let all = 0
  let right = 0
  for (const one of list) {
    all += one.mass
    if (one.ticks === decided.ticks) right = one.mass
  }
  const wrong = all > 0 ? Math.max(0, 1 - right / all) : 0
  const others = list
    .filter(one => one.ticks !== decided.ticks && one.mass > LEAST_CHANCE)
    .map(one => ({
      choice: choiceOf(one.edge),
      member: one.member,
      ticks: one.ticks,
      chance: one.mass,
      cost: Math.max(0, one.best),
    }))
    .sort((a, b) => a.cost - b.cost)
  return { ...decided, wrong, others }
}
