/**
 * What a canon inscription asks for, as far as its words are of the fixed kind: followers that enter later and at an
 * interval, the part sung backwards or several times. Riddles are left to an editor.
 */
import { equals, ONE, over, ratio, times, type Rational } from "../base/index.js"
import type { Canon, CanonEntry, CanonStatement, CanonVoice } from "../page/index.js"
import { canonRatio } from "./canon.js"
import {
  BACKWARDS,
  FOLLOWED,
  intervalsIn,
  INVERTED,
  lengthsIn,
  NUMBER,
  numberOf,
  plainLatin,
  WITHOUT_RESTS,
  type Interval,
} from "./inscription-words.js"
import type { Divisions } from "./mensuration-signs.js"

/** An inscription as far as it is understood. */
export interface Inscription {
  /**
   * The voices sung from the part; undefined where it is sung once and forward. Values there are against the values written.
   */
  readonly canon?: Canon
  /** What the durations of the whole part are divided by, where that is all that it says of values. */
  readonly ratio?: Rational
  /** It is not said when a follower enters. */
  readonly entryMissing?: boolean
  /** What is supposed though it is not said, in words: "the fifth above". */
  readonly supposed: readonly string[]
  /** Nothing of it is of the fixed kind. */
  readonly riddle: boolean
}

/** `signa`: how many signa congruentiae the part has. They tell when followers enter where the words do not. */
export function inscriptionOf(text: string, divisions: Divisions, signa = 0): Inscription {
  const words = plainLatin(text)
  const statements = statementsIn(words, divisions)
  if (statements) return { canon: [{ statements }], supposed: [], riddle: false }
  const followers = followersIn(words, signa)
  const how = howItGoes(words)
  const divided = canonRatio(words, divisions)
  if (followers > 0) return inCanon(words, followers, { ...how, ...(divided && { values: over(ONE, divided) }) }, signa)
  const changed = Object.keys(how).length > 0
  return {
    ...(changed && { canon: [{ statements: [{ ...how, ...(divided && { values: over(ONE, divided) }) }] }] }),
    ...(divided && { ratio: divided }),
    supposed: [],
    riddle: !changed && divided === undefined,
  }
}

function howItGoes(words: string): CanonStatement {
  return {
    ...(BACKWARDS.test(words) && { backwards: true }),
    ...(INVERTED.test(words) && { inverted: true }),
    ...(WITHOUT_RESTS.test(words) && { withoutRests: true }),
  }
}

/** Voices beside the first; 0 where nothing speaks of a voice that follows. */
function followersIn(words: string, signa: number): number {
  const voices = new RegExp(`\\b(${NUMBER}|trinitas|trinus) (?:in|ex) un|\\bfug\\w* (${NUMBER}) voc`).exec(words)
  const count = voices?.[1] ?? voices?.[2]
  if (count !== undefined) return (/^trin/.test(count) ? 3 : numberOf(count)) - 1
  if (FOLLOWED.test(words) || intervalsIn(words).length > 0 || (/\bpost\b/.test(words) && lengthsIn(words).length > 0))
    return Math.max(1, intervalsIn(words).length)
  return signa > 0 && /^(canon|fuga)?$/.test(words) ? 1 : 0
}

/** A canon of several voices; `how` is said of those that follow. */
function inCanon(words: string, followers: number, how: CanonStatement, signa: number): Inscription {
  const entries = entriesIn(words, followers, signa)
  const intervals = intervalsIn(words)
  const supposed: string[] = []
  const until =
    entries === undefined || signa !== 2 || followers !== 1 || entries[0]!.signum === undefined ? undefined : 2
  const others = Array.from({ length: followers }, (_, i): CanonVoice => {
    const interval = intervalAt(intervals, i, followers, supposed)
    return {
      ...(entries && { entry: entries[i]! }),
      ...(interval === undefined || Math.abs(interval) === 1 ? {} : { interval }),
      statements: [{ ...how, ...(until && { until }) }],
    }
  })
  return {
    canon: [{ statements: [{}] }, ...others],
    ...(entries === undefined && { entryMissing: true }),
    supposed,
    riddle: false,
  }
}

/** By the lengths that are named, else by the signa; of one length alone each voice enters so long after the one before. */
function entriesIn(words: string, followers: number, signa: number): CanonEntry[] | undefined {
  const lengths = lengthsIn(words)
  if (lengths.length >= followers)
    return lengths.slice(0, followers).map(({ count, level }) => ({ after: count, level }))
  const [only] = lengths
  if (only)
    return Array.from({ length: followers }, (_, i) => ({ after: times(only.count, ratio(i + 1)), level: only.level }))
  return signa >= followers ? Array.from({ length: followers }, (_, i) => ({ signum: i + 1 })) : undefined
}

const NAMES = ["unison", "second", "third", "fourth", "fifth", "sixth", "seventh", "octave"]

/** Each has its own, or all have the same. Without a direction it is taken above. */
function intervalAt(
  intervals: readonly Interval[],
  at: number,
  followers: number,
  supposed: string[],
): number | undefined {
  const own = intervals[at] ?? intervals.at(-1)
  if (!own) return undefined
  if (own.direction === undefined && own.size > 1 && at < Math.max(1, intervals.length))
    supposed.push(`the ${NAMES[own.size - 1] ?? `interval of ${own.size}`} above`)
  // one interval for several followers: each as far from the voice before it
  const steps =
    intervals.length < followers ? (own.size - 1) * (at + 1 - Math.max(0, intervals.length - 1)) : own.size - 1
  return own.direction === "below" ? -(steps + 1) : steps + 1
}

const SUNG = "(?:di(?:c|ca|ce)(?:itur|tur)|c[ae]n(?:itur|atur|etur|tatur|tetur)|dic|cane|iteratur|repetitur)"
const OFTEN: Readonly<Record<string, number>> = { bis: 2, ter: 3, quater: 4, quinquies: 5, sexies: 6 }
const TURNS = ["prim[oa]", "secund[oa]", "terti[oa]", "quart[oa]", "quint[oa]", "sext[oa]"]

/** "Dicitur ter, primo ut iacet, secundo per semi, tertio per tertium": undefined where it is sung but once. */
function statementsIn(words: string, divisions: Divisions): CanonStatement[] | undefined {
  if (/\bcancer eat plenis (sed )?redeat medius\b/.test(words)) return [{ backwards: true }, { values: ratio(1, 2) }]
  const often = new RegExp(
    `\\b${SUNG}\\b.*\\b(${Object.keys(OFTEN).join("|")})\\b|\\b(bis|ter|quater) ${SUNG}\\b`,
  ).exec(words)
  const turns = turnsIn(words)
  const count = often ? OFTEN[often[1] ?? often[2]!]! : turns.length > 1 ? Math.max(...turns.map(({ at }) => at)) : 0
  if (count < 2 && !(count === 0 && turns.length > 1)) return undefined
  return Array.from({ length: count }, (_, i) => {
    const turn = turns.find(({ at }) => at === i + 1 || (at === LAST && i === count - 1))
    return turn ? statementOf(turn.says, divisions) : {}
  })
}

/** "ultimo". */
const LAST = 99

interface Turn {
  readonly at: number
  readonly says: string
}

/** What is said of the first time, the second …; "secundo et tertio" share what follows. */
function turnsIn(words: string): Turn[] {
  const pattern = new RegExp(
    `(?<!\\b(?:per|ad|in|de|a|ex|pro) )\\b(?:(${TURNS.join(")|(")})|(ultim[oa]))(?: vice)?\\b(?! part)`,
    "g",
  )
  const found = [...words.matchAll(pattern)]
  const turns = found.map((match, i) => {
    const order = match.slice(1, TURNS.length + 1).findIndex(one => one !== undefined)
    const start = match.index + match[0].length
    return { at: order < 0 ? LAST : order + 1, says: words.slice(start, found[i + 1]?.index).trim() }
  })
  return turns.map((turn, i) =>
    /^(et|ac|atque|vero)?$/.test(turn.says) ? { ...turn, says: turns[i + 1]?.says ?? "" } : turn,
  )
}

function statementOf(says: string, divisions: Divisions): CanonStatement {
  const divided = canonRatio(says, divisions)
  const values = divided && over(ONE, divided)
  return { ...howItGoes(says), ...(values && !equals(values, ONE) && { values }) }
}
