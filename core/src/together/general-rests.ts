/** General rests: where every voice falls silent for the same time at what is meant to be the same moment (common practice). */
import type { VoiceGraph } from "./voice-graph.js"

/** Silence of one voice, as it is read by itself: rests that follow each other. */
interface Silence {
  /** Index of the first rest. */
  readonly figure: number
  readonly onset: number
  readonly lasts: number
  /** A perfection of longs, or a breve from the Ars nova on. */
  readonly measure: number
}

/** Fewer voices are silent together by chance, unless for long. */
const MANY_VOICES = 3
const LONG_MEASURES = 2

/**
 * By place, in time: the first rest of each voice. Rests have fixed lengths, and those meant are known by being alike: in every voice
 * just one silence of the same length, a measure or more, lies over those of the others as the voices are read by themselves.
 */
export function generalRests(graphs: readonly VoiceGraph[]): (readonly number[])[] {
  if (graphs.length < 2) return []
  const all = graphs.map(silences)
  if (all.some(own => own.length === 0)) return []
  return all[0]!.flatMap(one => {
    const together = all.map(own => own.filter(other => isOver(one, other)))
    if (!together.flat().every(member => all.every(own => own.filter(other => isOver(member, other)).length === 1)))
      return []
    if (graphs.length < MANY_VOICES && one.lasts < LONG_MEASURES * one.measure) return []
    return [together.map(own => own[0]!.figure)]
  })
}

const isOver = (a: Silence, b: Silence): boolean => a.lasts === b.lasts && Math.abs(a.onset - b.onset) < a.lasts

/** Within the voice, of a measure and more. */
function silences({ worked, ways, grids, figures }: VoiceGraph): Silence[] {
  if (worked.reading.canon) return []
  const rests = worked.settled.flatMap(({ stretch }) => stretch.figures.map(figure => figure.rest))
  const found: { figure: number; onset: number; lasts: number; measure: number }[] = []
  let time = 0
  for (let node = 0; ways[node]!.length > 0;) {
    const way = ways[node]!.reduce((least, one) => (one.cost < least.cost ? one : least))
    if (rests[way.figure]) {
      const last = found.at(-1)
      if (last !== undefined && last.onset + last.lasts === time) last.lasts += way.lasts
      else found.push({ figure: way.figure, onset: time, lasts: way.lasts, measure: grids[way.figure]!.strong })
    }
    time += way.lasts
    node = way.to
  }
  return found.filter(
    ({ figure, onset, lasts, measure }) =>
      onset > 0 && lasts >= measure && onset + lasts < time && figure < figures - 1,
  )
}
