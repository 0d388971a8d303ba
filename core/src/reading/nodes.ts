/** The states of the block under way, node by node, and how few of them are kept. */
import { PARTS, State, type Edge } from "./lattice-parts.js"
import type { RunWeights } from "./run-weights.js"

/**
 * States dearer than the best of their node by this much are let go (odds of one to 1,150). No sum of weights is exactly
 * this, so that rounding decides nothing.
 */
export const BEAM = 7.0473
/** Where other voices may still speak for them, rarer states are followed too (odds of one to 13,360). */
export const WIDE_BEAM = 9.5003
/** Never more than this many states at one node. */
const WIDTH = 12
const NONE: readonly State[] = []

export class Nodes {
  /** In 1024ths. */
  private readonly beam: number
  /** The edge laid last: those of one state are laid one after the other. */
  private last: Edge | undefined

  constructor(beam: number) {
    this.beam = beam * PARTS
  }

  private states: State[][] = []
  /** First node of the block, and the last that an edge leads to. */
  start = 0
  reach = 0
  /** Some figure of the block had more than one way. */
  branched = false

  /** A new block from `state` on. */
  begin(state: State): void {
    state.parts = 0
    this.last = undefined
    this.start = this.reach = state.node
    this.branched = false
    this.states = [[state]]
  }

  at(node: number): State[] {
    return (this.states[node - this.start] ??= [])
  }

  /** All nodes from the start of the block to `node`. */
  upTo(node: number): State[][] {
    const length = node - this.start + 1
    return this.states.length === length ? this.states : this.states.slice(0, length)
  }

  /** The states of the node that are worth following, the cheapest first. */
  prune(node: number): State[] {
    const states = this.at(node)
    if (states.length < 2) return states
    sortByCost(states)
    const limit = states[0]!.parts + this.beam
    let keep = 1
    while (keep < states.length && keep < WIDTH && states[keep]!.parts <= limit) keep++
    if (keep < states.length) states.length = keep
    return states
  }

  /** The state at `node` where so much is filled, with the run that was followed; a new one if need be. */
  reachedBy(run: RunWeights, node: number, position: number, shift: number): State {
    if (node > this.reach) this.reach = node
    const states = this.states[node - this.start]
    for (const state of states ?? NONE)
      if (
        state.position === position &&
        state.opening === run.opening &&
        state.counted === run.counted &&
        state.opener === run.opener &&
        state.shift === shift
      )
        return state
    const fresh = new State(node, position, run.opening, run.opener, run.counted, shift)
    if (states === undefined || states.length === 0) this.states[node - this.start] = [fresh]
    else states.push(fresh)
    return fresh
  }

  /** Lays an edge; `total` is what its end costs by this way. */
  link(edge: Edge, total: number): void {
    const { from, to } = edge
    if (from.first === undefined) from.first = edge
    else {
      this.last!.beside = edge
      this.branched = true
    }
    this.last = edge
    if (total >= to.parts) return
    to.parts = total
    to.via = edge
  }
}

/** Cheapest first, those of one cost in the order they came. There are few, and a sort of the language would cost a list for each node. */
function sortByCost(states: State[]): void {
  for (let i = 1; i < states.length; i++) {
    const state = states[i]!
    let at = i
    for (; at > 0 && states[at - 1]!.parts > state.parts; at--) states[at] = states[at - 1]!
    states[at] = state
  }
}
