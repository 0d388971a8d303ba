/** The rhythm of one voice: phrases that fill a given time exactly, some of them doubtful, and a final. */
import { draft, LONGA, type Draft } from "../../reading/testing/drafts.js"
import { phrase } from "../../reading/testing/lawful.js"
import type { Kind } from "../../reading/testing/kinds.js"
import type { Random } from "../../reading/testing/random.js"
import { doubtfulPhrase, type Doubt } from "./doubtful.js"

/** Figures that follow each other under one sign. */
export interface Rhythm {
  readonly kind: Kind
  /** Each phrase begins with a figure of the level and fills whole spans of it. */
  readonly level: number
  readonly phrases: readonly (readonly Draft[])[]
}

/** Tries at a rhythm that ends as it should. */
const TRIES = 40

const ticksOf = (drafts: readonly Draft[]): number => drafts.reduce((sum, one) => sum + one.ticks, 0)
const notesOf = (drafts: readonly Draft[]): number => drafts.reduce((sum, one) => sum + (one.members?.length ?? 1), 0)

/** What share of phrases is doubtful, and in which ways. */
export interface Doubtful {
  readonly share: number
  readonly doubts: readonly Doubt[]
}

/** Phrases that last exactly `ticks`, which has to be whole spans of the level. */
export function rhythm(
  kind: Kind,
  level: number,
  ticks: number,
  random: Random,
  doubtful: Doubtful = { share: 0, doubts: [] },
): Rhythm {
  const span = kind.measure.full[level]!
  const phrases: (readonly Draft[])[] = []
  for (let left = ticks / span; left > 0;) {
    const found = random.chance(doubtful.share) ? doubtfulPhrase(kind, random, level, left, doubtful.doubts) : undefined
    const spans = found?.spans ?? (left <= 8 ? left : 3 + random.below(4))
    phrases.push(found?.drafts ?? phrase(kind, random, level, spans))
    left -= spans
  }
  return { kind, level, phrases }
}

/** About how long a voice of so many notes lasts, in ticks. */
export function lengthOf(kind: Kind, level: number, notes: number, random: Random): number {
  let ticks = 0
  for (let count = 0; count < notes;) {
    const drafts = phrase(kind, random, level)
    count += notesOf(drafts)
    ticks += ticksOf(drafts)
  }
  return ticks
}

/** The last note, a long; a note that was altered needs the next larger one after it. */
export function finalOf({ kind, level, phrases }: Rhythm): Draft {
  const before = phrases.at(-1)?.at(-1)
  const written = before?.altered ? level : Math.min(level, LONGA)
  return draft(written, kind.measure.full[written]!)
}

/** The same, ending so that anything may follow: a sign, a final of any size, a long rest. */
export function closedRhythm(kind: Kind, level: number, ticks: number, random: Random): Rhythm {
  for (let i = 0; i < TRIES; i++) {
    const made = rhythm(kind, level, ticks, random)
    if (!made.phrases.at(-1)?.at(-1)?.altered) return made
  }
  throw new RangeError(`no rhythm of ${ticks} ticks ends without an altered note`)
}

/** A rhythm that is stated so many times. */
export function taleae(kind: Kind, level: number, ticks: number, random: Random, statements: number): Rhythm {
  const { phrases } = closedRhythm(kind, level, ticks / statements, random)
  const again = Array.from({ length: statements }, () => phrases.map(drafts => drafts.map(one => ({ ...one }))))
  return { kind, level, phrases: again.flat() }
}

/** Silence for so many ticks, which has to be whole spans of the level: the largest rests first, but one that every phrase may precede. */
export function silence(kind: Kind, level: number, ticks: number): readonly Draft[] {
  const { full } = kind.measure
  const rests: Draft[] = []
  for (let left = ticks; left > 0;) {
    const size = rests.length > 0 && left >= full[LONGA]! ? Math.min(level, LONGA) : level
    rests.push(draft(size, full[size]!, { rest: true }))
    left -= full[size]!
  }
  return rests
}
