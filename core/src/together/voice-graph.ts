/**
 * One voice as a graph for the search over all voices: every way through its lattice, figure by figure, with times as
 * whole numbers on a scale that all voices share. Costs are what a way costs beyond the voice's own cheapest.
 */
import { leastCommonMultiple, ZERO, type Rational } from "../base/index.js"
import { tonesOf, type Tone } from "../counterpoint/index.js"
import { UNIT, type Measuring } from "../practices/index.js"
import type { DraftFigure } from "../reading/draft-figure.js"
import { stepNumber } from "../reading/pitches.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import { BlockWays, type PlacedBlock, type Scale, type Way } from "./block-ways.js"
import { sungAfter } from "./sung.js"

export type { Scale, Way } from "./block-ways.js"

/** How the time of a stretch is measured: a perfection (or breve), and its first parts, on the shared scale. */
export interface Grid {
  readonly strong: number
  readonly medium: number
}

export interface VoiceGraph {
  readonly worked: WorkedVoice
  /** By node: the ways on. The first node is 0; the last has none. */
  readonly ways: readonly (readonly Way[])[]
  /** By node: index of the figure that comes next; the number of figures at the end. */
  readonly figureAt: readonly number[]
  readonly figures: number
  /** By figure: how it is heard. */
  readonly tones: readonly Tone[]
  /** By figure: the grid of its stretch, and whether the stretch begins with it. */
  readonly grids: readonly Grid[]
  readonly opens: readonly boolean[]
  /** By figure: a gap in the source before it lasts so long. */
  readonly delays: ReadonlyMap<number, number>
  /** Index of the final note, held freely; -1 where the voice closes with a rest (`finals.ts` may know it then). */
  readonly final: number
  /** Raw cost of the voice's own cheapest way. */
  readonly cost: number
  /** The blocks it was built of, in order. */
  readonly blocks: readonly BuiltBlock[]
}

/** A block as it stands in a graph: its first node, and what the voice's own cheapest way through it costs. */
export interface BuiltBlock extends PlacedBlock {
  readonly node: number
  readonly cost: number
}

/** The graph built last of each voice: it holds as long as the voice is the same and counts on the same scale. */
const known = new WeakMap<WorkedVoice, { readonly key: string; readonly graph: VoiceGraph }>()

/** `after`: what is sung after the part itself, in its unit, where that is not as it is read by itself. */
export function graphOf(worked: WorkedVoice, scales: readonly Scale[], after?: Rational): VoiceGraph {
  const key = JSON.stringify([scales, after])
  const before = known.get(worked)
  if (before?.key === key) return before.graph
  const sung = sungLater(worked, after)
  const graph = built(worked, scales, sung)
  known.set(worked, { key, graph })
  return graph
}

function built(worked: WorkedVoice, scales: readonly Scale[], after: Rational): VoiceGraph {
  const walk = new BlockWays()
  const steps: number[] = []
  const grids: Grid[] = []
  const opens: boolean[] = []
  worked.settled.forEach(({ stretch }, i) => {
    const grid = gridOf(worked, stretch.measuring, scales[i]!)
    for (const figure of stretch.figures) {
      steps.push(stepOf(figure))
      grids.push(grid)
      opens.push(figure.index === 0)
    }
  })
  const blocks = placedIn(worked, scales).map(placed => ({ ...placed, node: walk.last, cost: walk.add(placed) }))
  return {
    worked,
    ways: walk.ways,
    figureAt: walk.figureAt,
    figures: steps.length,
    tones: tonesOf(steps),
    grids,
    opens,
    delays: delaysOf(worked, scales, after),
    final: finalOf(worked),
    cost: blocks.reduce((sum, { cost }) => sum + cost, 0),
    blocks,
  }
}

/** The blocks of the voice in order, each where it stands. */
export function placedIn({ settled }: WorkedVoice, scales: readonly Scale[]): PlacedBlock[] {
  let offset = 0
  return settled.flatMap(({ stretch, blocks }, i) => {
    const placed = blocks.map(({ block, moved = 0 }, at): PlacedBlock => {
      if (block === undefined) throw new Error("the voice was not kept for a reading together")
      return { block, by: moved + offset, stretch: i, scale: scales[i]!, closes: at === blocks.length - 1 }
    })
    offset += stretch.figures.length
    return placed
  })
}

/** Staff step of a figure; NaN for a rest, or without a pitch. */
export function stepOf({ rest, note }: DraftFigure): number {
  const pitch = rest ? undefined : note?.pitch
  return pitch === undefined ? Number.NaN : stepNumber(pitch)
}

/** What is sung after the part itself: as its reading has it, where nothing else is said. */
export const sungLater = ({ reading }: WorkedVoice, after?: Rational): Rational =>
  after ?? (reading.canon ? sungAfter(reading) : ZERO)

/** Gaps whose length is known, by the figure that follows; before the final what is sung after the part itself. */
export function delaysOf(worked: WorkedVoice, scales: readonly Scale[], sung: Rational): Map<number, number> {
  const { cut, settled } = worked
  const delays = new Map<number, number>()
  const onScale = ({ num, den }: Rational, at: number): number => {
    // of several gaps at the very end the last stand in a stretch that was not kept; a ratio and its scale undo each other
    const stretch = Math.min(at, settled.length - 1)
    const scale = scales[stretch]!
    const { ratio } = settled[stretch]!.stretch.measuring
    return Math.round((num * ratio.num * UNIT * scale.num) / (den * ratio.den * scale.den))
  }
  let next = 0
  for (const { lasts, stretch, figure } of cut.entries) {
    if (figure >= 0) next++
    if (lasts === undefined) continue
    delays.set(next, (delays.get(next) ?? 0) + onScale(lasts, stretch))
  }
  const after = sung.num > 0 ? onScale(sung, settled.length - 1) : 0
  const final = finalOf(worked)
  if (after > 0 && final > 0) delays.set(final, (delays.get(final) ?? 0) + after)
  return delays
}

/** Number of the final note; -1 where there is none, or where rests follow it and it is not asked `evenBeforeRests`. */
export function finalOf({ settled }: WorkedVoice, evenBeforeRests = false): number {
  let count = 0
  let final = -1
  for (const { stretch } of settled)
    for (const figure of stretch.figures) {
      if (figure.final) final = count
      count++
    }
  return evenBeforeRests || final === count - 1 ? final : -1
}

export function gridOf({ chosen }: WorkedVoice, measuring: Measuring, { num, den }: Scale): Grid {
  const { tempus, prolatio, modusMinor } = measuring
  const unit = (UNIT * num) / den
  if (chosen.practice.unit === "tempus") return { strong: modusMinor * unit, medium: unit }
  return { strong: tempus * prolatio * unit, medium: prolatio * unit }
}

/** A scale for each stretch of each voice on which all times are whole numbers (or, under wild proportions, nearly). */
export function scalesOf(voices: readonly WorkedVoice[], factor: (voice: WorkedVoice) => Rational): Scale[][] {
  const fractions = voices.map(voice =>
    voice.settled.map(({ stretch: { measuring } }) => {
      const by = factor(voice)
      return { num: by.num * measuring.ratio.den, den: by.den * measuring.ratio.num }
    }),
  )
  let common = 1
  for (const all of fractions) for (const { den } of all) common = widened(common, reduced(den))
  return fractions.map(all => all.map(({ num, den }) => ({ num: num * common, den, common })))
}

/** What of a denominator a whole number of ticks does not swallow. */
function reduced(den: number): number {
  for (const prime of [2, 2, 2, 2, 3, 3, 5, 7]) if (den % prime === 0) den /= prime
  return den
}

const WIDEST = 100_000

/** Beyond a certain width times are rounded instead: proportions upon proportions, which no piece means. */
function widened(common: number, den: number): number {
  const multiple = leastCommonMultiple(common, den)
  return multiple > WIDEST ? common : multiple
}
