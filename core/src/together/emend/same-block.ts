/** Whether two blocks are laid out alike: what stood near a change and was read anew is mostly as it was. */
import type { Block, Edge, State } from "../../reading/lattice-parts.js"

/** The same ways with the same costs, wherever in the voice the blocks stand. */
export function isLaidAlike(a: Block, b: Block): boolean {
  if (a === b) return true
  const moved = b.start.node - a.start.node
  if (a.nodes.length !== b.nodes.length || b.end.node - a.end.node !== moved || !isSame(a.end, b.end, moved))
    return false
  return a.nodes.every((states, i) => {
    const others = b.nodes[i]!
    if (states.length !== others.length) return false
    for (let j = 0; j < states.length; j++) if (!goesOnAlike(states[j]!, others[j]!, moved)) return false
    return true
  })
}

function goesOnAlike(a: State, b: State, moved: number): boolean {
  if (!isSame(a, b, moved) || a.parts !== b.parts || a.bestAfter !== b.bestAfter) return false
  let [one, other] = [a.first, b.first]
  for (; one !== undefined && other !== undefined; [one, other] = [one.beside, other.beside])
    if (one.parts !== other.parts || !isSame(one.to, other.to, moved) || !lastsAlike(one, other)) return false
  return one === other
}

const isSame = (a: State, b: State, moved: number): boolean =>
  a.node + moved === b.node &&
  a.position === b.position &&
  a.opening === b.opening &&
  (a.opener < 0 ? a.opener === b.opener : a.opener + moved === b.opener) &&
  a.counted === b.counted &&
  a.shift === b.shift

function lastsAlike({ group: a, ticks }: Edge, { group: b, ticks: other }: Edge): boolean {
  if (a === b || a === undefined || b === undefined) return a === b && ticks === other
  if (a.ticks !== b.ticks || a.parts.length !== b.parts.length) return false
  return a.parts.every(([num, den], i) => num === b.parts[i]![0] && den === b.parts[i]![1])
}
