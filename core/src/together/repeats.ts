/** Repetition as evidence: what stands written alike in the other statements of a tenor should last alike. */
import { equals, type Rational, type SignId } from "../base/index.js"
import type { Page, Voice } from "../page/index.js"
import { durationOf } from "../reading/durations.js"
import { ticksOf } from "../reading/choices.js"
import type { Reading, SignReading } from "../reading/types.js"
import { findTaleae, namedTenor, repeatDisagreements, type Series } from "./tenor/index.js"
import type { VoiceGraph } from "./voice-graph.js"

/** What it costs that a note lasts otherwise than its fellows in the other statements (an estimate: one in twelve). */
export const UNLIKE_FELLOWS = 2.5
const LEAST_DOUBT = 0.02
/** Longer voices are no tenors that repeat themselves, and take too long to compare. */
const LONGEST = 800

/** Durations by sign that the other statements of the tenor make expected where they disagree; undefined where all agree. */
export function expectedByRepeats(page: Page, readings: readonly Reading[]): ReadonlyMap<SignId, Rational> | undefined {
  const tenor = namedTenor(readings)
  if (tenor === undefined || tenor.signs.length > LONGEST || !tenor.signs.some(isOpen)) return undefined
  const own = new Map(tenor.signs.map(sign => [sign.id, sign]))
  const { places } = repeatDisagreements({ taleae: taleaeOf(page, tenor) }, id => own.get(id)?.duration)
  const expected = new Map<SignId, Rational>()
  for (const { sign, others, odd, fellows } of places) {
    // of two that differ, the one that is less sure of itself should follow the other
    const doubt = own.get(sign)?.doubt ?? 0
    if (odd || fellows.every(fellow => (own.get(fellow)?.doubt ?? 0) < doubt)) expected.set(sign, others)
  }
  return expected.size === 0 ? undefined : expected
}

/** The taleae last found in a voice: they hold as long as its signs are read alike, however surely. */
const known = new WeakMap<Voice, { readonly signs: readonly SignReading[]; readonly taleae: readonly Series[] }>()

function taleaeOf(page: Page, tenor: Reading): readonly Series[] {
  const voice = page.voices.find(one => one.id === tenor.voice)
  const before = voice && known.get(voice)
  if (before && areAlike(before.signs, tenor.signs)) return before.taleae
  const taleae = findTaleae(page, tenor)
  if (voice) known.set(voice, { signs: tenor.signs, taleae })
  return taleae
}

const areAlike = (one: readonly SignReading[], other: readonly SignReading[]): boolean =>
  one.length === other.length && one.every((sign, i) => isAlike(sign, other[i]!))

/** All that repetition is found by. */
const isAlike = (a: SignReading, b: SignReading): boolean =>
  a === b ||
  (a.id === b.id &&
    a.kind === b.kind &&
    a.level === b.level &&
    a.pitch === b.pitch &&
    a.number === b.number &&
    a.held === b.held &&
    equals(a.onset, b.onset) &&
    equals(a.duration, b.duration))

/** Where nothing is in doubt the other statements are not asked: comparing them takes time. */
const isOpen = (sign: Reading["signs"][number]): boolean => sign.doubt > LEAST_DOUBT

/** How many durations would have to change for all statements of the tenor to agree. */
export function disagreements(page: Page, readings: readonly Reading[]): number {
  const tenor = namedTenor(readings)
  if (tenor === undefined) return 0
  const own = new Map(tenor.signs.map(sign => [sign.id, sign.duration]))
  return repeatDisagreements({ taleae: taleaeOf(page, tenor) }, id => own.get(id)).count
}

/** The graph in which other durations than the expected ones cost more. */
export function expecting(graph: VoiceGraph, expected: ReadonlyMap<SignId, Rational>): VoiceGraph {
  if (expected.size === 0) return graph
  const stretches = graph.worked.cut.stretches.flatMap(stretch => stretch.figures.map(figure => ({ stretch, figure })))
  if (!stretches.some(({ figure }) => expected.has(figure.id))) return graph
  const ways = graph.ways.map(list =>
    list.map(way => {
      const { stretch, figure } = stretches[way.figure]!
      const wanted = expected.get(figure.id)
      if (wanted === undefined || equals(durationOf(ticksOf(way.edge, way.member), stretch.measuring.ratio), wanted))
        return way
      return { ...way, cost: way.cost + UNLIKE_FELLOWS }
    }),
  )
  return { ...graph, ways }
}
