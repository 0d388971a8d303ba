/** The score as modern notation: bars, ties, tuplets, meters, shown accidentals; still data, of no file format. */
import { compare, equals, times, type Rational } from "../base/index.js"
import { shownAccidentals, type ShownAccidental } from "./accidentals.js"
import { barsOf, blocksOf, governingBars, type Bar } from "./bars.js"
import { cautionsFor, inflectionsOf } from "./cautions.js"
import { layersOf, type LayerOptions } from "./layers.js"
import type { LayerItem, NotatedBlock, NotatedScore } from "./notated.js"
import { cutsOf, structureOf } from "./structure.js"
import type { Score, ScoreEvent } from "./types.js"
import { wholesPerUnit, type ValueOptions } from "./values.js"

/** How the score becomes modern notation. */
export interface NotateOptions extends ValueOptions, LayerOptions {
  /** Each voice has the bars of its own mensuration ("own", unless said otherwise), or all have those of most voices. */
  readonly bars?: "own" | "common"
  /** Accidentals that only caution: none, unless said otherwise; the usual, or also those that other voices call for. */
  readonly cautionary?: "none" | "usual" | "many"
}

/** Throws a RangeError for a reduction that is no power of two up to 32, and `TooShort` for times that no sign can show. */
export function notate(score: Score, options: NotateOptions = {}): NotatedScore {
  const scale = wholesPerUnit(score, options)
  const end = times(score.duration, scale)
  const structure = structureOf(score)
  const cuts = cutsOf(structure)
  const own = score.voices.map(voice => barsOf(voice, scale, end, cuts))
  const common = options.bars === "common" ? governingBars(own, end) : undefined
  const bars = common ? own.map(() => common) : own
  const meters = bars.map(own => own.find(bar => bar.meter)?.meter ?? null)
  const blocks = blocksOf(
    bars,
    end,
    cuts.map(({ at }) => times(at, scale)),
  )
  const accidentals = accidentalsOf(score, bars, scale, options.cautionary)
  const layers = score.voices.map((voice, i) =>
    layersOf(voice, { bars: bars[i]!, blocks, scale, first: meters[i]!, accidentals: accidentals[i]! }, options),
  )
  const closes = [...structure.closes, ...structure.sections].map(at => times(at, scale))
  return {
    score,
    wholesPerUnit: scale,
    meters,
    blocks: joined(
      blocks.map((block, i) => ({
        ...block,
        sectionEnd: closes.some(at => equals(at, block.end)),
        layers: layers.map(own => own[i]!),
      })),
    ),
  }
}

/** A stretch in which nothing begins, since all voices hold a note that is written whole, belongs to the one before it. */
function joined(blocks: readonly NotatedBlock[]): NotatedBlock[] {
  const all: NotatedBlock[] = []
  for (const block of blocks) {
    const before = all.at(-1)
    if (before && block.layers.length > 0 && block.layers.every(isHeld))
      all[all.length - 1] = {
        ...block,
        start: before.start,
        n: before.n,
        layers: before.layers.map((layer, i) => [...layer, ...block.layers[i]!]),
      }
    else all.push(block)
  }
  return all
}

function isHeld(layer: readonly LayerItem[]): boolean {
  return layer.every(({ kind }) => kind === "continued")
}

/** What each voice shows, cautions with it. */
function accidentalsOf(
  { voices }: Score,
  bars: readonly (readonly Bar[])[],
  scale: Rational,
  cautionary: NotateOptions["cautionary"] = "none",
): ReadonlyMap<ScoreEvent, ShownAccidental>[] {
  const shown = voices.map((voice, i) => shownAccidentals(voice, bars[i]!, scale))
  if (cautionary === "none") return shown
  const inflections = cautionary === "many" ? voices.map((voice, i) => inflectionsOf(voice, shown[i]!, scale)) : []
  return voices.map((voice, i) => {
    const others = inflections.flatMap((own, n) => (n === i ? [] : own)).toSorted((a, b) => compare(a.at, b.at))
    return new Map([...shown[i]!, ...cautionsFor(voice, { bars: bars[i]!, scale }, shown[i]!, others)])
  })
}
