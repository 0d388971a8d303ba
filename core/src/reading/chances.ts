/** The chance of each duration in a block: the sum over all paths on which a figure lasts so long. */
import { ticksOf, type Decided } from "./choices.js"
import { PARTS, type Block, type Edge, type State } from "./lattice-parts.js"
import { Detours, type Path } from "./paths.js"
import { Tallies } from "./tallies.js"

/** Ways rarer than this are not followed as rivals of the whole voice. */
const LEAST_PATH = 0.02
/** Ways rarer than this are not counted at all. */
const LEAST_COUNTED = 1e-5

const tallies = new Tallies()
const detours = new Detours()

/** Gives the decisions of a block their doubt and rivals; returns the other ways through it. */
export function withChances(block: Block, decisions: Decided[]): Path[] {
  const from = block.start.node
  makeRoom(block)
  lookAhead(block, weightAfter)
  tallies.begin(decisions.length)
  weights[block.start.slot] = 1
  for (const states of block.nodes) for (const state of states) spread(state, block)
  tallies.judge(decisions)
  return detours.paths(decisions, from)
}

/** Passes on the sum of the chances of all ways to a state, and counts each way on from it. */
function spread(from: State, { start }: Block): void {
  const weight = weights[from.slot]!
  const all = weightsAfter[start.slot]!
  const best = from.parts / PARTS
  for (let edge = from.first; edge !== undefined; edge = edge.beside) {
    const { to } = edge
    // not worth following
    if (to.slot < 0) continue
    const cost = edge.parts / PARTS
    weights[to.slot]! += weight * oddsOf(to.parts / PARTS - best - cost)
    const extra = best + cost + to.bestAfter - start.bestAfter
    const chance = (weight * weightsAfter[to.slot]! * oddsOf(-extra)) / all
    if (chance > LEAST_COUNTED) count(edge, from.node - start.node, chance, extra)
  }
}

function count(edge: Edge, at: number, chance: number, extra: number): void {
  const { length } = edge
  for (let member = 0; member < length; member++)
    tallies.add(at + member, ticksOf(edge.proposal, member), chance, extra, edge, member)
  if (chance > LEAST_PATH && extra > 1e-9) detours.add(edge, extra)
}

/** Powers for whole 1024ths: most gains are few. */
const odds = new Float64Array(16 * PARTS)

/** How likely a way is that costs so much more (less than nothing) than the cheapest. */
function oddsOf(gain: number): number {
  if (gain === 0) return 1
  const parts = -gain * PARTS
  if (!(parts > 0 && parts < odds.length) || parts !== Math.trunc(parts)) return Math.exp(gain)
  return odds[parts]! || (odds[parts] = Math.exp(gain))
}

/** Cheapest ways on, from the end backward; `then` is told of each state. */
export function lookAhead(block: Block, then?: (state: State) => void): void {
  for (let n = block.nodes.length - 1; n >= 0; n--)
    for (const state of block.nodes[n]!) {
      let best = state.bestAfter
      for (let edge = state.first; edge !== undefined; edge = edge.beside) {
        const cost = edge.parts / PARTS + edge.to.bestAfter
        if (cost < best) {
          best = cost
          state.next = edge
        }
      }
      state.bestAfter = best
      then?.(state)
    }
}

/** Sums of the chances of all ways to each state of a block, and on from it, each relative to its cheapest; rewritten for each block. */
let weights = new Float64Array(256)
let weightsAfter = new Float64Array(256)

function makeRoom({ nodes }: Block): void {
  let count = 0
  for (const states of nodes) for (const state of states) state.slot = count++
  if (count > weights.length) {
    weights = new Float64Array(2 * count)
    weightsAfter = new Float64Array(2 * count)
  } else weights.fill(0, 0, count)
}

function weightAfter({ first, bestAfter, slot }: State): void {
  let sum = 0
  if (first === undefined) sum = bestAfter < Infinity ? 1 : 0
  else if (bestAfter < Infinity)
    for (let edge: Edge | undefined = first; edge !== undefined; edge = edge.beside) {
      const { to } = edge
      const after = to.slot < 0 ? 0 : weightsAfter[to.slot]!
      if (after > 0) sum += after * oddsOf(bestAfter - edge.parts / PARTS - to.bestAfter)
    }
  weightsAfter[slot] = sum
}
