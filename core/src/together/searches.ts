/** Searches and what they told, remembered as long as the voices they were made of: all else follows from these. */
import type { Reading } from "../reading/types.js"
import type { Joint } from "./search.js"
import type { Searched } from "./ensemble.js"
import type { VoiceGraph } from "./voice-graph.js"

/** What was found last, by the first of the voices: all else follows from their graphs. */
const searches = new WeakMap<VoiceGraph, readonly Searched[]>()
/** Searches with the same first voice that are remembered: of so many voices with all, without each, and of some; twice, to go back. */
const mostSearches = (voices: number): number => 2 * (voices + 3)

/** What a search told, by the order of its voices, where nothing else has a say in it. */
export const told = new WeakMap<Joint, readonly Reading[]>()

export const searchedBefore = (graphs: readonly VoiceGraph[]): Searched | undefined =>
  searches
    .get(graphs[0]!)
    ?.find(one => one.graphs.length === graphs.length && one.graphs.every((graph, i) => graph === graphs[i]))

export function remember(found: Searched): void {
  const [first] = found.graphs
  if (first === undefined) return
  searches.set(first, [found, ...(searches.get(first) ?? [])].slice(0, mostSearches(found.graphs.length)))
}
