/**
 * Whether two blocks are laid out alike. What stands near a change and was read anew is mostly as it was, and so is what follows when
 * it is counted from elsewhere in an imperfect mensuration.
 */
import type { Block, Edge, State } from "../../reading/lattice-parts.js"

/** The same ways with the same costs, wherever in the voice the blocks stand and whatever was counted before. */
export function isLaidAlike(a: Block, b: Block): boolean {
  if (a === b) return true
  if (a.nodes.length !== b.nodes.length || a.start.bestAfter !== b.start.bestAfter || a.end.parts !== b.end.parts)
    return false
  const last = a.nodes.length - 1
  if (placeOf(a.nodes[last]!, a.end) !== placeOf(b.nodes[last]!, b.end)) return false
  return a.nodes.every((states, i) => {
    const others = b.nodes[i]!
    if (states.length !== others.length) return false
    for (let j = 0; j < states.length; j++) if (!goesOnAlike(a, states[j]!, b, others[j]!)) return false
    return true
  })
}

function goesOnAlike(a: Block, state: State, b: Block, other: State): boolean {
  if (state.parts !== other.parts || state.bestAfter !== other.bestAfter) return false
  let [one, two] = [state.first, other.first]
  for (; one !== undefined && two !== undefined; one = one.beside, two = two.beside)
    if (one.parts !== two.parts || !lastsAlike(one, two) || leadsTo(a, one) !== leadsTo(b, two)) return false
  return one === two
}

/** The place of the state to which the edge leads: its node in the block, and which of those there it is. */
function leadsTo({ start, nodes }: Block, { to }: Edge): number {
  const node = to.node - start.node
  return node * MOST_STATES + placeOf(nodes[node]!, to)
}

/** More than there are states at a node. */
const MOST_STATES = 1 << 20

const placeOf = (states: readonly State[], state: State): number => (states[0] === state ? 0 : states.indexOf(state))

function lastsAlike({ group: a, ticks }: Edge, { group: b, ticks: other }: Edge): boolean {
  if (a === b || a === undefined || b === undefined) return a === b && ticks === other
  if (a.ticks !== b.ticks || a.parts.length !== b.parts.length) return false
  return a.parts.every(([num, den], i) => num === b.parts[i]![0] && den === b.parts[i]![1])
}
