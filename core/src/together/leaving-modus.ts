/**
 * A voice that leaves its modus for a few longs, where only so it meets the others: seen in motets of c. 1300-1370, in which
 * nothing on the page says so (observed in edited motets; the treatises know only red notes for it, Ars nova, c. 1320, 19).
 */
import {
  equals,
  over,
  plus,
  ratio,
  times,
  toNumber,
  ZERO,
  type Rational,
  type SignId,
  type VoiceId,
} from "../base/index.js"
import { MISSED_MEETING } from "../counterpoint/index.js"
import { BREVIS } from "../practices/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import type { AssumedChange } from "../reading/settings.js"
import type { Reading, SignReading } from "../reading/types.js"
import { doubted } from "./colours.js"
import { allMeet, type Once } from "./hearing.js"
import { bentToMeet } from "./meeting-cost.js"

/** That a voice does so at some place costs this beforehand (natural logarithm of odds): an estimate. */
export const LEFT_MODUS = 5
/** So much more if for twice as long (a few longs: seen in edited motets); an estimate. */
export const LONGER = 1
/** It comes back where longs of two and of three breves begin together: after so many breves. */
const SPANS = [6, 12]
/**
 * Where the voices bend their rules by less than this to meet (natural logarithm of odds), no such passage is looked for: it costs
 * more itself. An estimate.
 */
export const BENT = 3
/** So many places are tried, and so many of these heard, at most. */
const MOST_TRIED = 12
const MOST_HEARD = 3

/** What is asked of the voices, one of them with such changes. */
export interface Asked {
  /** The voice worked anew. */
  readonly work: (one: WorkedVoice, changes: readonly AssumedChange[]) => WorkedVoice
  /** What it costs so many voices to meet, this one among them; Infinity where they cannot, undefined where it is not known. */
  readonly meeting: (worked: readonly WorkedVoice[], voice: VoiceId, count: number) => number | undefined
  readonly hear: (worked: readonly WorkedVoice[]) => Once
}

/** Signs between which a voice goes by another modus; `shorter`: by so many breves is it then shorter than by its own. */
interface Passage {
  readonly changes: readonly [AssumedChange, AssumedChange]
  readonly shorter: number
  /** Before anything is heard (natural logarithm of odds). */
  readonly price: number
}

/** The reading with a passage in another modus in each voice that does not meet the others, or hardly, where that mends it. */
export function withModusLeft(first: Once, asked: Asked): Once {
  let best = first
  for (const { voice } of first.worked) {
    const meets = best.meeting.includes(voice.id)
    if (best.meeting.length === 0 || (meets && !isBent(voice.id, best))) continue
    best = leavingIn(voice.id, best, asked) ?? best
  }
  return best
}

/** Signs times voices up to which it is worth the time to look whether rules are bent. */
const SHORT = 1500

const isShort = ({ readings }: Once): boolean =>
  readings.reduce((sum, one) => sum + one.signs.length, 0) * readings.length <= SHORT

/** All voices meet, but only against rules that they would not break by themselves. */
const isBent = (voice: VoiceId, once: Once): boolean =>
  allMeet(once) && isShort(once) && (bentToMeet(once.worked, voice, once.meeting.length) ?? 0) > BENT

/** A passage in another modus may be worth a look. */
export const hardlyMeet = (once: Once): boolean =>
  !allMeet(once) || once.worked.some(({ voice }) => isBent(voice.id, once))

/** The voices with the passages that were found in them before, if as many meet by them. */
export function withPassagesOf(before: Once, first: Once, { work, hear }: Omit<Asked, "meeting">): Once {
  const found = before.worked.map(one => one.chosen.divisions?.changes?.filter(change => change.despite) ?? [])
  if (found.every(changes => changes.length === 0)) return first
  const other = hear(first.worked.map((one, v) => (found[v]!.length > 0 ? work(one, found[v]!) : one)))
  if (other.meeting.length < first.meeting.length) return first
  const readings = other.readings.map((one, v) =>
    found[v]!.length > 0 ? told(one, first.readings[v]!, found[v] as unknown as Passage["changes"]) : one,
  )
  return { ...other, readings }
}

function leavingIn(voice: VoiceId, first: Once, { work, meeting, hear }: Asked): Once | undefined {
  const at = first.worked.findIndex(one => one.voice.id === voice)
  const own = first.worked[at]!
  const too = excessOf(own.reading, first)
  if (too === undefined || !mayLeave(own)) return undefined
  const passages = passagesIn(own)
    .toSorted((a, b) => Math.abs(a.shorter - too) - Math.abs(b.shorter - too))
    .slice(0, MOST_TRIED)
  const meets = first.meeting.includes(voice)
  const count = first.meeting.length + (meets ? 0 : 1)
  const tried = passages.flatMap(({ changes, price }) => {
    const worked = first.worked.with(at, work(own, changes))
    const cost = meeting(worked, voice, count) ?? 0
    return cost < Infinity ? [{ worked, cost: cost + price, changes, price }] : []
  })
  const heard = tried
    .toSorted((a, b) => a.cost - b.cost)
    .slice(0, MOST_HEARD)
    .map(one => {
      const once = hear(one.worked)
      return { ...one, once, total: once.cost + one.price }
    })
    .filter(({ once }) => once.meeting.length >= count && once.meeting.includes(voice))
    .toSorted((a, b) => a.total - b.total)
  const [chosen, ...rivals] = heard
  if (chosen === undefined) return undefined
  // the place that is no longer missed is not enough: it has to sound better too
  const better = first.cost - chosen.total - (meets ? 0 : MISSED_MEETING)
  if (better < 0)
    return meets ? { ...first, readings: doubted(first.readings, chosen.once.readings, Math.exp(better)) } : undefined
  const readings = rivals.reduce(
    (all, { once, total }) => doubted(all, once.readings, Math.exp(chosen.total - total)),
    chosen.once.readings,
  )
  return { ...chosen.once, readings: readings.with(at, told(readings[at]!, first.readings[at]!, chosen.changes)) }
}

/** By how many breves the voice is too long by itself for those that meet. */
function excessOf(own: Reading, { readings, meeting }: Once): number | undefined {
  const model = readings.find(one => meeting.includes(one.voice))
  const goal = model && finalOnset(model)
  const onset = finalOnset(own)
  return goal && onset && model.unit === own.unit
    ? (toNumber(onset) - toNumber(goal)) / toNumber(breveOf(own))
    : undefined
}

const finalOnset = ({ signs }: Reading): Rational | undefined => signs.findLast(one => one.kind === "note")?.onset

function breveOf({ unit, mensurations }: Reading): Rational {
  const { tempus, prolatio } = mensurations[0]!
  return unit === "tempus" ? ratio(1) : times(ratio(tempus ?? 2), ratio(prolatio ?? 2))
}

/** Of the practices with a modus that longs show, and in one mensuration throughout. */
const mayLeave = ({ chosen, reading, cut }: WorkedVoice): boolean =>
  ["ars-antiqua", "ars-nova"].includes(chosen.practice.name) &&
  reading.canon === undefined &&
  chosen.divisions?.changes === undefined &&
  cut.stretches.every(one => equals(one.measuring.ratio, ratio(1)))

/** Notes and rests between which the voice would last otherwise by the other modus. */
function passagesIn({ reading, cut }: WorkedVoice): Passage[] {
  const breve = breveOf(reading)
  const lasting = reading.signs.filter(one => one.number > 0)
  const measured = new Map(cut.entries.map(one => [one.sign.id, cut.stretches[one.stretch]!.measuring]))
  return lasting.flatMap((first, from): Passage[] => {
    const own = measured.get(first.id)
    if (own === undefined || first.kind !== "note" || levelOf(first) > BREVIS) return []
    const found: Passage[] = []
    let [now, other] = [ZERO, 0]
    for (let i = from; i < lasting.length - 2 && other < SPANS.at(-1)!; i++) {
      now = plus(now, lasting[i]!.duration)
      const breves = toNumber(over(now, breve))
      other = own.modusMinor === 3 ? other + inTwos(lasting[i]!, breve) : breves
      const shorter = own.modusMinor === 3 ? breves - other : breves - SPANS[0]!
      const isWhole = own.modusMinor === 3 ? SPANS.includes(other) && shorter > 0 : breves === 4 || breves === 5
      const price = LEFT_MODUS + (other > SPANS[0]! ? LONGER : 0)
      if (isWhole) found.push({ changes: changesOf(first.id, lasting[i + 1]!.id, own), shorter, price })
    }
    return found
  })
}

const LEVELS = ["maxima", "longa", "brevis"]
const levelOf = ({ level }: SignReading): number =>
  level !== null && LEVELS.includes(level) ? LEVELS.indexOf(level) : BREVIS + 1

/** In breves, where longs hold two. */
function inTwos(sign: SignReading, breve: Rational): number {
  const level = levelOf(sign)
  return sign.kind === "note" && level <= BREVIS ? 2 ** (BREVIS - level) : toNumber(over(sign.duration, breve))
}

function changesOf(from: SignId, until: SignId, own: AssumedChange["divisions"]): Passage["changes"] {
  const { modusMaior, modusMinor, tempus, prolatio } = own
  const back = { modusMaior, modusMinor, tempus, prolatio }
  const other = { ...back, modusMinor: modusMinor === 3 ? (2 as const) : (3 as const) }
  return [
    { from, divisions: other, doubt: 0, despite: true },
    { from: until, divisions: back, doubt: 0, despite: true },
  ]
}

function told(reading: Reading, before: Reading, [from, until]: Passage["changes"]): Reading {
  const was = new Map<SignId, Rational>(before.signs.map(one => [one.id, one.duration]))
  const signs = reading.signs.map(one =>
    equals(was.get(one.id) ?? one.duration, one.duration) ? one : { ...one, decidedBy: "others" as const },
  )
  const numberOf = (id: SignId): number => signs.find(one => one.id === id)!.number
  const modus = from.divisions.modusMinor === 3 ? "perfect" : "imperfect"
  const problem = {
    code: "modus-left",
    what: `${reading.label} meets the other voices only if it goes by ${modus} modus from ${numberOf(from.from)} to ${numberOf(until.from) - 1}; it was read so, though nothing on the page says it.`,
    where: { sign: from.from, place: reading.label },
    mend: "If that is meant, put a sign there that says the modus; if not, look for what the voice lacks with resolutio fit.",
  }
  return { ...reading, signs, problems: [...reading.problems, problem] }
}
