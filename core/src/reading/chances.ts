/** The chance of each duration in a block: the sum over all paths on which a figure lasts so long. */
import { choiceOf, ticksOf, type Alternative, type Decided } from "./choices.js"
import type { Block, Edge, State } from "./lattice-parts.js"
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
  /** Another duration of the same figure. */
  next: Tally | undefined
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
  const tallies = new Array<Tally | undefined>(decisions.length).fill(undefined)
  const detours: Detour[] = []
  for (const states of block.nodes)
    for (const { first } of states)
      for (let edge = first; edge !== undefined; edge = edge.beside) {
        const cost = extraCost(edge, block)
        const chance = chanceOf(edge, cost, block)
        if (!(chance > LEAST_COUNTED)) continue
        for (let member = 0; member < edge.length; member++)
          tally(tallies, edge.figure - from + member, edge, member, chance, cost)
        if (chance > LEAST_PATH && cost > 1e-9) detours.push({ edge, cost })
      }
  return {
    decisions: decisions.map((decided, i) => judge(decided, tallies[i])),
    paths: pathsThrough(detours, decisions, from, chosen),
  }
}

/** What the cheapest way through the edge costs beyond the cheapest of all. */
const extraCost = ({ from, to, cost }: Edge, { start }: Block): number =>
  from.best + cost + to.bestAfter - start.bestAfter

/** Most ways are the cheapest there are to their end: for these the power need not be worked out. */
const oddsOf = (gain: number): number => (gain === 0 ? 1 : Math.exp(gain))

function chanceOf({ from, to }: Edge, extra: number, { start }: Block): number {
  const after = to.slot < 0 ? 0 : weightsAfter[to.slot]!
  return (weights[from.slot]! * after * oddsOf(-extra)) / weightsAfter[start.slot]!
}

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

/** Sums of the chances of all ways to each state of a block, and on from it; rewritten for each block. */
let weights = new Float64Array(256)
let weightsAfter = new Float64Array(256)

function makeRoom({ nodes }: Block): void {
  let count = 0
  for (const states of nodes) for (const state of states) state.slot = count++
  if (count > weights.length) {
    weights = new Float64Array(2 * count)
    weightsAfter = new Float64Array(2 * count)
  } else {
    weights.fill(0, 0, count)
    weightsAfter.fill(0, 0, count)
  }
}

/** Sums of the chances of all ways to each state and on from it, each relative to its cheapest. */
function spreadWeights(block: Block): void {
  const { nodes } = block
  makeRoom(block)
  weights[block.start.slot] = 1
  for (const states of nodes)
    for (const from of states)
      for (let edge = from.first; edge !== undefined; edge = edge.beside)
        if (edge.to.slot >= 0)
          weights[edge.to.slot]! += weights[from.slot]! * oddsOf(edge.to.best - from.best - edge.cost)
  for (let n = nodes.length - 1; n >= 0; n--)
    for (const state of nodes[n]!) weightsAfter[state.slot] = weightAfter(state)
}

function weightAfter({ first, bestAfter }: State): number {
  if (first === undefined) return bestAfter < Infinity ? 1 : 0
  let sum = 0
  if (bestAfter === Infinity) return sum
  for (let edge: Edge | undefined = first; edge !== undefined; edge = edge.beside) {
    const { to, cost } = edge
    const after = to.slot < 0 ? 0 : weightsAfter[to.slot]!
    if (after > 0) sum += after * oddsOf(bestAfter - cost - to.bestAfter)
  }
  return sum
}

function tally(
  tallies: (Tally | undefined)[],
  at: number,
  edge: Edge,
  member: number,
  chance: number,
  cost: number,
): void {
  const ticks = ticksOf(edge, member)
  let last: Tally | undefined
  for (let known = tallies[at]; known !== undefined; known = known.next) {
    last = known
    if (known.ticks !== ticks) continue
    known.mass += chance
    if (cost < known.best) {
      known.best = cost
      known.edge = edge
      known.member = member
    }
    return
  }
  const fresh: Tally = { ticks, mass: chance, best: cost, edge, member, next: undefined }
  if (last === undefined) tallies[at] = fresh
  else last.next = fresh
}

function judge(decided: Decided, first: Tally | undefined): Decided {
  if (first?.next === undefined) return decided
  let all = 0
  let right = 0
  for (let one: Tally | undefined = first; one !== undefined; one = one.next) {
    all += one.mass
    if (one.ticks === decided.ticks) right = one.mass
  }
  const wrong = all > 0 ? Math.max(0, 1 - right / all) : 0
  const { choice, member, ticks } = decided
  return { choice, member, ticks, wrong, others: othersOf(decided, first) }
}

/** The other durations that are not too rare, the cheapest first. */
function othersOf({ ticks }: Decided, first: Tally): readonly Alternative[] {
  let others: Alternative[] | undefined
  for (let one: Tally | undefined = first; one !== undefined; one = one.next) {
    if (one.ticks === ticks || one.mass <= LEAST_CHANCE) continue
    const { edge, member, mass: chance, best } = one
    const other = { choice: choiceOf(edge), member, ticks: one.ticks, chance, cost: Math.max(0, best) }
    if (others === undefined) others = [other]
    else others.push(other)
  }
  if (others === undefined) return NOTHING
  return others.length === 1 ? others : others.sort((a, b) => a.cost - b.cost)
}
const NOTHING: readonly Alternative[] = []
