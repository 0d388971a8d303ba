/** Where voices have their finals, of those that close with rests too. */
import { finalOf, type VoiceGraph } from "./voice-graph.js"

/** So many times nearer: read by itself a voice may still be a few breves too long or too short. An estimate. */
const FAR = 3

const known = new WeakMap<VoiceGraph, VoiceGraph>()

/**
 * The graphs, each with its final. A voice that closes with rests has it before them, unless by itself it ends with them far nearer
 * to where the others' finals begin: then it only ends early, and need not meet anyone (inference).
 */
export function withFinals(graphs: readonly VoiceGraph[]): VoiceGraph[] {
  const others = graphs.flatMap(one => (one.final < 0 ? [] : [timesOf(one, one.final).onset])).sort((a, b) => a - b)
  const goal = others[Math.floor(others.length / 2)]
  return graphs.map(one => {
    const last = one.final < 0 ? finalOf(one.worked, true) : -1
    if (last < 0) return one
    const { onset, end } = timesOf(one, last)
    return goal !== undefined && FAR * Math.abs(end - goal) < Math.abs(onset - goal) ? one : held(one, last)
  })
}

/** The same graph each time, so that what was searched is known again. */
function held(graph: VoiceGraph, final: number): VoiceGraph {
  let bound = known.get(graph)
  if (bound === undefined) known.set(graph, (bound = { ...graph, final }))
  return bound
}

/** On the shared scale, by the voice's own cheapest way: when the figure begins, and when the voice ends. */
function timesOf(
  { ways, figureAt, delays }: VoiceGraph,
  figure: number,
): { readonly onset: number; readonly end: number } {
  let [node, time, onset] = [0, delays.get(0) ?? 0, 0]
  while (ways[node]!.length > 0) {
    if (figureAt[node] === figure) onset = time
    const way = ways[node]!.reduce((best, one) => (one.cost < best.cost ? one : best))
    node = way.to
    time += way.lasts + (delays.get(figureAt[node]!) ?? 0)
  }
  return { onset, end: time }
}
