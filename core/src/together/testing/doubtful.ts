/**
 * Phrases whose signs allow two lawful readings, one of them meant: the tables of the treatises leave the choice to the
 * other voices. Nothing here looks at which of the two a reader prefers.
 */
import { writeMarks } from "../../reading/testing/dots.js"
import { BREVIS, draft, LONGA, lost, type Draft } from "../../reading/testing/drafts.js"
import type { Kind } from "../../reading/testing/kinds.js"
import { scribeOf } from "../../reading/testing/lawful.js"
import type { Random } from "../../reading/testing/random.js"

interface Phrase {
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

/** What leaves the choice: five or eight units, two units, dots, undivided runs of semibreves. */
export type Doubt = "many-units" | "two-units" | "dots" | "semibreves"
export const DOUBTS: readonly Doubt[] = ["many-units", "two-units", "dots", "semibreves"]

/** A doubtful phrase of at most so many spans of the level; undefined where none fits. */
export function doubtfulPhrase(
  kind: Kind,
  random: Random,
  span: number,
  most: number,
  doubts: readonly Doubt[],
): Phrase | undefined {
  const { groups, perfect, divisions } = kind.measure
  // Levels above the spans are not counted here, nor those below the breve where semibreves are plain.
  const levels = perfect.filter(k => k >= span && (groups === undefined || k <= LONGA))
  const ways = levels.flatMap(level =>
    (["many-units", "many-units", "two-units", "dots"] as const)
      .filter(doubt => doubt !== "dots" || (groups === undefined && divisions[level + 1] === 2))
      .map(doubt => ({ doubt, level })),
  )
  const isRun = groups !== undefined && span === LONGA
  const all = [...ways, ...(isRun ? [1, 2, 3].map(() => ({ doubt: "semibreves" as const, level: BREVIS })) : [])]
  const wanted = all.filter(({ doubt }) => doubts.includes(doubt))
  if (wanted.length === 0) return undefined
  const { doubt, level } = random.of(wanted)
  const place = { kind, random, level }
  const found = doubt === "semibreves" ? looseRun(kind, random) : filled(place, span, UNITS[doubt](place))
  return found === undefined || found.spans > most ? undefined : found
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

/**
 * Two dots after units: both add half, or both part perfections. Where half a unit follows at once, scribes who part are
 * few; where it comes later or went before, either is as likely.
 */
function dots(place: Place): readonly Draft[] {
  const { kind, level, random } = place
  const half = draft(level + 2, kind.measure.full[level + 2]!)
  const atOnce = random.chance(0.5)
  const adding = random.chance(atOnce ? 0.8 : 0.5)
  const dotted = draft(level + 1, 1.5 * kind.measure.full[level + 1]!, { dotted: true })
  const one = (): Draft => (adding ? { ...dotted } : unit(place, { mark: "division" }))
  const [x, y] = adding ? [whole(place), whole(place)] : [without(place, "post"), without(place, "ante")]
  const between = atOnce ? [half, unit(place), half] : [unit(place), half, half]
  const after = atOnce ? [half, half] : [unit(place)]
  return [x, one(), ...between, one(), ...after, y, ...three(place)]
}

/** Ways to share a run of semibreves out to breves: differing in the number of breves, so that lengths decide. */
const USUAL: Record<"antiqua" | "divided" | "early", readonly (readonly number[])[]> = {
  antiqua: [
    [2, 3],
    [2, 2, 2],
    [3, 3],
    [2, 2, 3],
  ],
  divided: [[4], [2, 2], [5], [2, 3], [6], [3, 3], [2, 2, 2], [7], [3, 4], [2, 2, 3]],
  early: [[4], [2, 2], [4], [2, 2], [5], [2, 3], [6], [3, 3], [2, 2, 2]],
}
/** As many breves as the usual way has: only concord can tell. */
const UNUSUAL: typeof USUAL = {
  antiqua: [
    [3, 2],
    [2, 3, 2],
    [3, 2, 2],
  ],
  divided: [
    [3, 2],
    [4, 2],
    [2, 4],
    [2, 5],
    [2, 3, 2],
  ],
  early: [
    [3, 2],
    [4, 2],
    [2, 4],
  ],
}
const UNUSUAL_SHARE = 0.2

/** A long, then breves with a run of semibreves among them that no dot divides. */
function looseRun(kind: Kind, random: Random): Phrase {
  const { full, divisions, groups } = kind.measure
  const breves = divisions[LONGA] === 3 ? 3 : 4
  const divided = kind.options["breveDivision"] === "equal"
  const stage = kind.practice === "ars-nova" ? "early" : divided ? "divided" : "antiqua"
  const cut = random.of((random.chance(UNUSUAL_SHARE) ? UNUSUAL : USUAL)[stage])
  const run = cut.map(size => draft(BREVIS, full[BREVIS]!, { members: groups!.shares(size), loose: true }))
  const before = random.below(breves - cut.length + 1)
  const single = (count: number): Draft[] => Array.from({ length: count }, () => draft(BREVIS, full[BREVIS]!))
  const drafts = [draft(LONGA, full[LONGA]!), ...single(before), ...run, ...single(breves - cut.length - before)]
  return { drafts, spans: 1 + breves / divisions[LONGA]! }
}

const UNITS: Record<Exclude<Doubt, "semibreves">, (place: Place) => readonly Draft[]> = {
  "many-units": manyUnits,
  "two-units": twoUnits,
  dots,
}
