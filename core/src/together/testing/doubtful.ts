/**
 * Phrases whose signs allow two lawful readings, one of them meant: the tables of the treatises leave the choice to the
 * other voices. Nothing here looks at which of the two a reader prefers.
 */
import { writeMarks } from "../../reading/testing/dots.js"
import { BREVIS, draft, LONGA, lost, type Draft } from "../../reading/testing/drafts.js"
import type { Kind } from "../../reading/testing/kinds.js"
import { scribeOf } from "../../reading/testing/lawful.js"
import type { Random } from "../../reading/testing/random.js"

export interface Phrase {
  readonly drafts: readonly Draft[]
  /** Spans of the level that was asked for. */
  readonly spans: number
}

interface Place {
  readonly kind: Kind
  readonly random: Random
  /** The perfect level whose units are counted. */
  readonly level: number
}

/** A doubtful phrase of at most so many spans of the level; undefined where none fits. */
export function doubtfulPhrase(kind: Kind, random: Random, span: number, most: number): Phrase | undefined {
  const { groups, perfect, full, divisions } = kind.measure
  const ways: (() => Phrase | undefined)[] = []
  // Levels above the spans are not counted here, nor those below the breve where semibreves are plain.
  for (const level of perfect.filter(k => k >= span && (groups === undefined || k <= LONGA))) {
    const place = { kind, random, level }
    const fill = (make: (place: Place) => readonly Draft[]) => (): Phrase | undefined =>
      filled(place, span, make(place))
    ways.push(fill(manyUnits), fill(manyUnits), fill(twoUnits))
    if (groups === undefined && divisions[level + 1] === 2) ways.push(fill(dots))
  }
  if (groups !== undefined && span <= LONGA)
    for (let i = 0; i < 3; i++)
      ways.push(() => ({ drafts: looseRun(kind, random), spans: divisions[LONGA] === 3 ? 2 : 3 }))
  if (ways.length === 0) return undefined
  const found = random.of(ways)()
  if (found === undefined || found.spans > most) return undefined
  return found.drafts.reduce((sum, one) => sum + one.ticks, 0) === found.spans * full[span]! ? found : undefined
}

/** Fills the phrase up to whole spans, begins it with a figure of the span, and marks what the other levels need. */
function filled({ kind, random, level }: Place, span: number, core: readonly Draft[]): Phrase | undefined {
  const { full } = kind.measure
  const drafts = [...core]
  if (span < level) drafts.unshift(draft(span, full[span]!))
  const ticks = (): number => drafts.reduce((sum, one) => sum + one.ticks, 0)
  while (ticks() % full[span]! !== 0) drafts.push(draft(level, full[level]!))
  if (!writeMarks(drafts, scribeOf(kind, random), level)) return undefined
  return { drafts, spans: ticks() / full[span]! }
}

const whole = ({ kind, level }: Place): Draft => draft(level, kind.measure.full[level]!)
const unit = ({ kind, level }: Place, more: Partial<Draft> = {}): Draft =>
  draft(level + 1, kind.measure.full[level + 1]!, more)
/** The larger note without its last third, or its first. */
const without = ({ kind, level }: Place, third: "post" | "ante"): Draft =>
  draft(level, 2 * kind.measure.full[level + 1]!, { [third]: lost(level) })
const altered = ({ kind, level }: Place): Draft =>
  draft(level + 1, 2 * kind.measure.full[level + 1]!, { altered: true })
const three = (place: Place): readonly Draft[] => [unit(place), unit(place), unit(place)]

/** Three units, one of them now and then in smaller notes. */
function threes(place: Place): readonly Draft[] {
  const { kind, random, level } = place
  const { groups, divisions, full } = kind.measure
  if (!random.chance(0.3)) return three(place)
  if (groups !== undefined) return [unit(place), { ...unit(place), members: groups.shares(2) }, unit(place)]
  const parts = divisions[level + 1]!
  const small = Array.from({ length: parts }, () => draft(level + 2, full[level + 2]!))
  return [unit(place), ...small, unit(place)]
}

/** Five or eight units between two larger notes: the first is perfect and the last unit altered, or both lose a third. */
function manyUnits(place: Place): readonly Draft[] {
  const middle = place.random.chance(0.6) ? threes(place) : [...threes(place), ...threes(place)]
  if (place.random.chance(0.5))
    return [whole(place), ...middle, unit(place), altered(place), whole(place), ...three(place)]
  return [without(place, "post"), unit(place), ...middle, unit(place), without(place, "ante"), ...three(place)]
}

/** Two units: one and an altered one, or one for either neighbour. */
function twoUnits(place: Place): readonly Draft[] {
  if (place.random.chance(0.5)) return [whole(place), unit(place), altered(place), whole(place), ...three(place)]
  return [without(place, "post"), unit(place), unit(place), without(place, "ante"), ...three(place)]
}

/** Two dots after units: both add half, or both part perfections. */
function dots(place: Place): readonly Draft[] {
  const { kind, level, random } = place
  const half = draft(level + 2, kind.measure.full[level + 2]!)
  const dotted = draft(level + 1, 1.5 * kind.measure.full[level + 1]!, { dotted: true })
  const parting = unit(place, { mark: "division" })
  if (random.chance(0.5))
    return [whole(place), dotted, half, unit(place), half, dotted, half, half, whole(place), ...three(place)]
  return [
    without(place, "post"),
    { ...parting },
    half,
    unit(place),
    half,
    { ...parting },
    half,
    half,
    without(place, "ante"),
    ...three(place),
  ]
}

/** Ways to share a run of semibreves out to breves, by the size of the run. */
const CUTS: Record<"antiqua" | "divided" | "early", readonly (readonly number[])[]> = {
  antiqua: [
    [2, 3],
    [3, 2],
    [2, 2, 2],
    [3, 3],
    [2, 2, 3],
    [2, 3, 2],
    [3, 2, 2],
  ],
  divided: [[4], [2, 2], [5], [2, 3], [3, 2], [6], [3, 3], [2, 2, 2], [4, 2], [2, 4], [7], [3, 4], [2, 5], [2, 3, 2]],
  early: [[4], [2, 2], [4], [2, 2], [5], [2, 3], [3, 2], [6], [3, 3], [2, 2, 2], [4, 2], [2, 4]],
}

/** A long, then breves with a run of semibreves among them that no dot divides. */
function looseRun(kind: Kind, random: Random): readonly Draft[] {
  const { full, divisions, groups } = kind.measure
  const breves = divisions[LONGA] === 3 ? 3 : 4
  const early = kind.practice === "ars-nova"
  const divided = kind.options["breveDivision"] === "equal"
  const cut = random.of(CUTS[early ? "early" : divided ? "divided" : "antiqua"])
  const run = cut.map(size => draft(BREVIS, full[BREVIS]!, { members: groups!.shares(size), loose: true }))
  const before = random.below(breves - cut.length + 1)
  const single = (count: number): Draft[] => Array.from({ length: count }, () => draft(BREVIS, full[BREVIS]!))
  return [draft(LONGA, full[LONGA]!), ...single(before), ...run, ...single(breves - cut.length - before)]
}
