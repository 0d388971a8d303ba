/**
 * For tests: invented pieces in which every voice obeys its rules and the voices sound together as those of their time
 * do. The rhythm of all voices is laid out first, then the pitches are chosen; the figures are written down last.
 * Nothing here looks at how a reader decides. The same seed gives the same piece.
 */
import { leastCommonMultiple } from "../../base/index.js"
import { LAWFUL_PRACTICES, type Kind, type LawfulPractice } from "../../reading/testing/kinds.js"
import { randomFrom, type Random } from "../../reading/testing/random.js"
import { kindsFor, singers, slowed, spanLevel, type Singer } from "./ensemble.js"
import { DOUBTS, type Doubt } from "./doubtful.js"
import { MANNERS, STRICT_MANNERS } from "./manners.js"
import { finalOf, lengthOf, rhythm, taleae, type Rhythm } from "./rhythm.js"
import { writePiece, type LawfulPiece, type VoicePlan } from "./writing.js"

export type { LawfulPiece } from "./writing.js"
export { DOUBTS, type Doubt } from "./doubtful.js"
export { LAWFUL_PRACTICES, type LawfulPractice } from "../../reading/testing/kinds.js"

export interface PieceOptions {
  /** Drawn from the seed when absent. */
  readonly practice?: LawfulPractice
  /** 2 to 8 (3). */
  readonly voices?: number
  /** About so many notes and rests in a voice that is no slow one (60). */
  readonly notes?: number
  /** Chance that a division that is needed is left out (0). */
  readonly careless?: number
  /** Share of phrases whose signs allow two readings, where the voice's own mensuration has such (0). */
  readonly doubtful?: number
  /** Kinds of doubt in them (all). */
  readonly doubts?: readonly Doubt[]
  /** Voices in different mensurations of the same minim (false); in Ars antiqua there is but one. */
  readonly mixed?: boolean
  /** Counterpoint by the rules alone, without the freedom that the pieces of its time take (false). */
  readonly strict?: boolean
}

/** A voice before it has its rhythm. */
export interface Part {
  readonly singer: Singer
  readonly kind: Kind
  /** Phrases are whole spans of this level. */
  readonly level: number
}

export function lawfulPiece(seed: number, options: PieceOptions = {}): LawfulPiece {
  const random = randomFrom(seed)
  const practice = options.practice ?? random.of(LAWFUL_PRACTICES)
  const parts = partsOf(practice, options, random)
  const ticks = commonLength(parts, options.notes ?? 60, random)
  const doubtful = { share: options.doubtful ?? 0, doubts: options.doubts ?? DOUBTS }
  const plans = parts.map((part, v): VoicePlan => {
    const statements = v === 0 && practice !== "white" ? statementsOf(part, ticks, random) : 1
    const made =
      statements > 1
        ? taleae(part.kind, part.level, ticks, random, statements)
        : rhythm(part.kind, part.level, ticks, random, doubtful)
    const color = statements > 1 ? colorOf(made, statements, random) : undefined
    return { ...part, color, segments: [...made.phrases, [finalOf(made)]].map(drafts => ({ drafts })) }
  })
  const title = `Invented piece ${seed} (${practice})`
  const manner = (options.strict ? STRICT_MANNERS : MANNERS)[practice]
  return writePiece(plans, { practice, title, careless: options.careless ?? 0, manner, random })
}

/** Share of the tenors before 1400 that go round and round, as those of motets do. */
const ROUND = 0.7
/** The fewest spans of a talea. */
const SHORTEST = 3

/** How often the tenor's rhythm is stated; 1: it is none that comes again. */
function statementsOf({ kind, level }: Part, ticks: number, random: Random): number {
  const spans = ticks / kind.measure.full[level]!
  const fitting = [2, 3, 4, 5, 6].filter(n => spans % n === 0 && spans / n >= SHORTEST)
  return fitting.length > 0 && random.chance(ROUND) ? random.of(fitting) : 1
}

/** After how many notes the tenor's pitches come again: one or two taleae, or one and a half. */
function colorOf(made: Rhythm, statements: number, random: Random): number {
  const notes = made.phrases.flat().reduce((sum, one) => sum + (one.rest ? 0 : (one.members?.length ?? 1)), 0)
  return Math.max(4, Math.round((notes / statements) * random.of([1, 1.5, 2])))
}

/** The voices, the one that carries the others first. */
export function partsOf(
  practice: LawfulPractice,
  options: Pick<PieceOptions, "voices" | "mixed">,
  random: Random,
): readonly Part[] {
  const count = Math.max(2, Math.min(8, Math.trunc(options.voices ?? 3)))
  return partsWith(practice, kindsFor(practice, count, options.mixed ?? false, random), random)
}

/** A voice for each kind. */
export function partsWith(practice: LawfulPractice, kinds: readonly Kind[], random: Random): readonly Part[] {
  return singers(practice, kinds.length, random).map((singer, i) => partUnder(singer, kinds[i]!))
}

/** What one sings under a mensuration. */
export function partUnder(singer: Singer, own: Kind): Part {
  const kind = singer.slow ? slowed(own) : own
  return { singer, kind, level: spanLevel(kind, singer.slow) }
}

/** Ticks in which a voice that is not slow has so many notes, and in which every voice has whole spans. */
export function commonLength(parts: readonly Part[], notes: number, random: Random): number {
  const lively = parts.find(part => !part.singer.slow) ?? parts[0]!
  const common = parts.map(({ kind, level }) => kind.measure.full[level]!).reduce(leastCommonMultiple)
  return Math.max(1, Math.round(lengthOf(lively.kind, lively.level, notes, random) / common)) * common
}
