/** Do the voices meet? What precedes each final is compared, since finals are held freely. */
import { compare, equals, minus, times, toText, type Rational, type SignId } from "../base/index.js"
import type { Reading, SignReading } from "../reading/types.js"
import type { Fit, MissedPlace, VoiceFit } from "./types.js"
import { soundingReadings, type Sounding } from "./sounding.js"
import { commonUnit } from "./units.js"

/** A place where all voices should stand together: a final, the last note before a finis punctorum, a signum congruentiae. */
interface Meeting {
  /** One for each voice, in the common unit. */
  readonly at: readonly { readonly onset: Rational; readonly sign: SignId | null }[]
  /** What it is, if it is not the final. */
  readonly of?: Pick<MissedPlace, "kind" | "number">
}

/**
 * The `fit` of the JSON contract: in minims by the stated equivalence where units differ. A part that is sung in canon, or
 * several times, lasts as long as the voice sung from it that ends last; its other voices are not asked to end with it.
 * A voice of which nothing is written, or nothing is left, parts from nobody.
 */
export function fitOf(written: readonly Reading[]): Fit {
  const { readings, signOf } = lastSung(written)
  const { unit, factor, equivalence } = commonUnit(readings)
  const compared = readings.filter(hasLength)
  const places = meetings(compared)
  // in a canon signa tell where another voice enters
  const told = readings === written ? signa(compared) : []
  const missed = [...places, ...told].filter(meeting => partsOf(meeting).length > 0)
  const parted = missed.reduce<Meeting | undefined>(
    (first, one) => (first && isBefore(first, one) ? first : one),
    undefined,
  )
  return {
    together: parted === undefined,
    durations: readings.map(reading => toText(times(reading.duration, factor(reading)))),
    firstParting: parted ? parting(parted, signOf) : null,
    unit,
    ...(equivalence === null ? {} : { equivalence }),
    ...(parted && (missed.includes(places.at(-1)!) ? { finals: finalsOf(readings) } : { finalsMeet: true })),
    ...(parted?.of ? { missed: { ...parted.of, voices: placesOf(parted, compared) } } : {}),
  }
}

function finalsOf(readings: readonly Reading[]): string[] {
  const { factor } = commonUnit(readings)
  return readings.map(reading => toText(times(finalOf(reading).onset, factor(reading))))
}

const placesOf = ({ at }: Meeting, readings: readonly Reading[]): MissedPlace["voices"] =>
  readings.map(({ label }, i) => ({ label, onset: toText(at[i]!.onset) }))

/** By how much each voice misses the others at its final. */
export function voiceFitsOf(written: readonly Reading[]): VoiceFit[] {
  const { readings } = lastSung(written)
  const compared = readings.filter(hasLength)
  const final = meetings(compared).at(-1)
  if (!final) return []
  const most = usual(final)
  return written.map((reading, index) => {
    const finalOnset = final.at[compared.indexOf(readings[index]!)]?.onset ?? most
    return { voice: reading.voice, label: reading.label, finalOnset, by: minus(finalOnset, most) }
  })
}

/** Of the voices sung from each part the one whose final comes last. */
function lastSung(written: readonly Reading[]): Pick<Sounding, "readings" | "signOf"> {
  const { readings, from, signOf } = soundingReadings(written)
  if (readings === written) return { readings, signOf }
  const last = written.map(({ voice }) => {
    const own = readings.filter((_, i) => from[i]!.part === voice)
    return own.reduce((late, one) => (compare(finalOf(one).onset, finalOf(late).onset) > 0 ? one : late))
  })
  return { readings: last, signOf }
}

function meetings(readings: readonly Reading[]): Meeting[] {
  if (readings.length === 0) return []
  const { factor } = commonUnit(readings)
  const scaled = (reading: Reading, at: End) => ({ onset: times(at.onset, factor(reading)), sign: at.sign })
  const ends = readings.map(endsOfSections)
  const final: Meeting = {
    at: settleRests(
      readings,
      readings.map(reading => scaled(reading, finalOf(reading))),
    ),
  }
  const sections = ends[0]?.length ?? 0
  // Sections can be matched only where every voice closes as many of them.
  if (ends.some(own => own.length !== sections)) return [final]
  const inner = Array.from({ length: sections }, (_, section): Meeting => ({
    at: readings.map((reading, voice) => scaled(reading, ends[voice]![section]!)),
    of: { kind: "section", number: section + 1 },
  }))
  return [...inner, final]
}

/** The signa congruentiae, where every voice has as many. */
function signa(readings: readonly Reading[]): Meeting[] {
  const count = readings[0]?.signa?.length ?? 0
  if (readings.some(({ signa }) => (signa?.length ?? 0) !== count)) return []
  const { factor } = commonUnit(readings)
  const each = readings.map(reading => {
    const at = new Set(reading.signa)
    const by = factor(reading)
    return reading.signs.filter(({ id }) => at.has(id)).map(({ id, onset }) => ({ onset: times(onset, by), sign: id }))
  })
  return Array.from({ length: count }, (_, i) => ({
    at: each.map(own => own[i]!),
    of: { kind: "signum", number: i + 1 },
  }))
}

const earliest = ({ at }: Meeting): Rational =>
  at.map(({ onset }) => onset).reduce((a, b) => (compare(b, a) < 0 ? b : a))
const isBefore = (a: Meeting, b: Meeting): boolean => compare(earliest(a), earliest(b)) <= 0

/** Anything of it lasts. */
const hasLength = (reading: Reading): boolean => reading.duration.num > 0

interface End {
  readonly onset: Rational
  readonly sign: SignId | null
}

const lasts = (sign: SignReading) => (sign.kind === "note" || sign.kind === "rest") && sign.duration.num > 0

/** The last note or rest; a gap after which nothing is sung, as long as it lasted. */
const closing = ({ signs }: Reading): SignReading | undefined =>
  signs.findLast(sign => lasts(sign) || (sign.takenFor === "lacuna" && sign.duration.num > 0))

/** The onset of the final note, or the end where a voice closes with a rest, or where its end is lost. */
function finalOf(reading: Reading): End {
  const last = closing(reading)
  if (last?.kind === "note") return { onset: last.onset, sign: last.id }
  return { onset: reading.duration, sign: last?.id ?? null }
}

/** A voice that closes with a rest may do so where the others begin their finals or where they leave them. */
function settleRests(readings: readonly Reading[], finals: readonly End[]): readonly End[] {
  const rests = (i: number) => closing(readings[i]!)?.kind !== "note"
  const notes = finals.filter((_, i) => !rests(i))
  const common = notes[0]
  if (!common) return heldBeforeRests(readings) ?? finals
  if (notes.some(other => !equals(other.onset, common.onset))) return finals
  const { factor } = commonUnit(readings)
  const close = readings.flatMap((reading, i) => (rests(i) ? [] : [times(reading.duration, factor(reading))]))
  return finals.map((final, i) =>
    rests(i) && close.some(end => equals(end, final.onset)) ? { ...final, onset: common.onset } : final,
  )
}

/** Where all close with rests: the notes before these, if they begin together; then they are the finals, and held freely. */
function heldBeforeRests(readings: readonly Reading[]): readonly End[] | undefined {
  const { factor } = commonUnit(readings)
  const last = readings.flatMap(reading => {
    const note = reading.signs.findLast(sign => sign.kind === "note" && lasts(sign))
    return closing(reading)?.kind === "rest" && note
      ? [{ onset: times(note.onset, factor(reading)), sign: note.id }]
      : []
  })
  const isTogether = last.length === readings.length && last.every(one => equals(one.onset, last[0]!.onset))
  return isTogether ? last : undefined
}

/** The last note before each finis punctorum that is followed by more. */
function endsOfSections(reading: Reading): End[] {
  const ends: End[] = []
  let note: SignReading | undefined
  const last = reading.signs.findLast(lasts)
  reading.signs.slice(0, last && reading.signs.indexOf(last) + 1).forEach(sign => {
    if (sign.kind === "note") note = sign
    else if (isSectionEnd(sign) && note) ends.push({ onset: note.onset, sign: note.id })
  })
  return ends
}

export function isSectionEnd(sign: SignReading): boolean {
  return sign.kind === "stroke" && (sign.rule === "finis-punctorum" || sign.takenFor === "finis-punctorum")
}

/** Where most voices stand; of two places with as many, the later. */
function usual(meeting: Meeting): Rational {
  const count = (onset: Rational) => meeting.at.filter(other => equals(other.onset, onset)).length
  return meeting.at.map(({ onset }) => onset).sort((a, b) => count(b) - count(a) || compare(b, a))[0]!
}

function partsOf(meeting: Meeting): Meeting["at"] {
  const most = usual(meeting)
  return meeting.at.filter(({ onset }) => !equals(onset, most))
}

/** Of two voices neither is in the right, so both are named; of more, those that differ from most. */
function parting(meeting: Meeting, signOf: Sounding["signOf"]): NonNullable<Fit["firstParting"]> {
  const differing = meeting.at.length === 2 ? meeting.at : partsOf(meeting)
  return {
    onset: toText(earliest(meeting)),
    signs: differing.flatMap(({ sign }) => (sign === null ? [] : [signOf(sign)])),
  }
}
