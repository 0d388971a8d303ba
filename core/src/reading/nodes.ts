/** The states of the block under way, node by node, and how few of them are kept. */
import { State, type Edge, type Step } from "./lattice-parts.js"

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
  constructor(private readonly beam: number) {}

  private states: State[][] = []
  /** First node of the block, and the last that an edge leads to. */
  start = 0
  reach = 0
  /** Some figure of the block had more than one way. */
  branched = false

  /** A new block from `state` on. */
  begin(state: State): void {
    state.best = 0
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
    const limit = states[0]!.best + this.beam
    let keep = 1
    while (keep < states.length && keep < WIDTH && states[keep]!.best <= limit) keep++
    if (keep < states.length) states.length = keep
    return states
  }

  /** The state at `node` that the step leads to when so much is filled there; a new one if need be. */
  reachedBy(step: Step, node: number, position: number): State {
    if (node > this.reach) this.reach = node
    const states = this.states[node - this.start]
    for (const state of states ?? NONE)
      if (
        state.position === position &&
        state.opening === step.opening &&
        state.counted === step.counted &&
        state.opener === step.opener &&
        state.shift === step.shift
      )
        return state
    const fresh = new State(node, position, step.opening, step.opener, step.counted, step.shift)
    if (states === undefined || states.length === 0) this.states[node - this.start] = [fresh]
    else states.push(fresh)
    return fresh
  }

  /** Lays an edge; `total` is what its end costs by this way. */
  link(edge: Edge, total: number): void {
    const { from, to } = edge
    from.leadOn(edge)
    if (!from.single) this.branched = true
    if (total >= to.best) return
    to.best = total
    to.via = edge
  }
}

/** Cheapest first, those of one cost in the order they came. There are few, and a sort of the language would cost a list for each node. */
function sortByCost(states: State[]): void {
  for (let i = 1; i < states.length; i++) {
    const state = states[i]!
    let at = i
    for (; at > 0 && states[at - 1]!.best > state.best; at--) states[at] = states[at - 1]!
    states[at] = state
  }
}
