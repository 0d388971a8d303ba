/**
 * Voices searched with their intervals trusted as far as those of this piece may be. How far that is only the search tells
 * (`temper.ts`); what it has found is then weighed anew (`weighed-anew.ts`), so that the voices are searched once.
 */
import { tempered, type CounterpointWeights } from "../counterpoint/index.js"
import { Likelihoods } from "./likelihoods.js"
import { meetingsOf } from "./meetings.js"
import type { Paused } from "./paused.js"
import { AT_A_GLANCE, IN_FULL, searchingTogether, type Breadth, type Joint, type Laid } from "./search.js"
import type { Echo } from "./sounds.js"
import { temperOf } from "./temper.js"
import { KeptSearch } from "./weighed-anew.js"

/** What is to be searched. */
export interface Asked {
  readonly laid: Laid
  readonly weights: CounterpointWeights
  readonly echoes: ((weights: CounterpointWeights) => Echo) | undefined
}

/** What a search has found, and by what weights. */
export interface Found {
  readonly weights: CounterpointWeights
  readonly joint: Joint
  /** What the likeliest way costs where intervals count in full: to be compared with other pages, of which each is trusted otherwise. */
  readonly inFull: number
  /** By voice and figure. */
  readonly likelihoods: Likelihoods["found"]
}

/** A piece whose intervals may be trusted so far is heard as usual; a long one, to be heard otherwise, must be trusted much less. */
const AS_USUAL = { short: 0.95, long: 0.75 } as const
/** Notes from which on a piece is a long one. */
export const LONG_PIECE = 3000

/** Where intervals count for less than so much, ways have been let go that would be likely: all is searched anew. */
const SEARCHED_ANEW = 0.55

export function* searchedAsTrusted(asked: Asked): Paused<Found> {
  const kept = new KeptSearch(asked.laid.rows)
  const found = yield* foundBy(asked, IN_FULL, kept)
  const temper = howFar(asked, found)
  if (temper === 1) return found
  const weights = tempered(asked.weights, temper)
  const { inFull } = found
  if (temper < SEARCHED_ANEW) return { ...(yield* foundBy({ ...asked, weights }, IN_FULL)), inFull }
  const likelihoods = new Likelihoods(asked.laid.graphs)
  const joint = yield* kept.weighed(asked.laid, temper, window => likelihoods.add(window))
  return { weights, joint, inFull, likelihoods: likelihoods.found }
}

/**
 * What a narrow search finds, trusting the intervals as usual: to search once more for that would double the time in which
 * something is told.
 */
export const glanced = (asked: Asked): Paused<Found> => foundBy(asked, AT_A_GLANCE)

/** What the weights have to be multiplied by; 1 where it makes no difference, or hardly any. */
function howFar({ laid, weights }: Asked, { joint, likelihoods }: Found): number {
  const open = (v: number, figure: number): boolean => (likelihoods[v]![figure]?.length ?? 0) > 1
  if (!likelihoods.some((own, v) => own.some((_, figure) => open(v, figure)))) return 1
  const figures = laid.graphs.reduce((sum, graph) => sum + graph.figures, 0)
  const temper = temperOf(weights, laid.graphs, joint, open)
  return temper > AS_USUAL[figures > LONG_PIECE ? "long" : "short"] ? 1 : temper
}

/** Searches, and keeps what was found where it may be weighed anew. */
function* foundBy({ laid, weights, echoes }: Asked, breadth: Breadth, kept?: KeptSearch): Paused<Found> {
  const likelihoods = new Likelihoods(laid.graphs)
  const input = { laid, weights, breadth, meetings: meetingsOf(laid.graphs), echoes: echoes?.(weights) }
  const joint = yield* searchingTogether(input, window => {
    likelihoods.add(window)
    kept?.add(window)
  })
  return { weights, joint, inFull: joint.cost, likelihoods: likelihoods.found }
}
