/** How fast: the length of a stated value, and what an editor would take when nobody states one. */
import { ONE, over, ratio, toNumber, type Rational } from "../base/index.js"
import type { TempoValue } from "./names.js"
import { unitsPerMinute, type Score } from "../score/index.js"

/** So many of a value in a minute, measured at the beginning of the first voice. */
export interface Tempo {
  readonly value: TempoValue
  readonly perMinute: number
}

/** What a voice counts from an onset on, in the score's unit, proportions included. */
export interface Lengths {
  readonly longa: Rational | null
  readonly brevis: Rational
  /** Null where breves are divided by groups, so that no semibreve has a length of its own. */
  readonly semibrevis: Rational | null
  readonly minima: Rational | null
}

/** By `ScoreMensuration.periods`: long and breve where tempora are counted, else breve, semibreve and minim. */
export function lengthsOf(unit: Score["unit"], periods: readonly Rational[]): Lengths {
  const [first = ONE, second = ONE, third = ONE] = periods
  if (unit === "tempus") return { longa: first, brevis: second, semibrevis: null, minima: null }
  // A voice that counts tempora beside others in minims has two periods: its long and its breve.
  if (periods.length === 2) return { longa: first, brevis: second, semibrevis: null, minima: null }
  return { longa: null, brevis: first, semibrevis: second, minima: third }
}

/**
 * What the hand beats: the semibreve at its ordinary length; under strokes and proportions as many signs as take its time.
 * Under a dotted sign that is augmented it is the minim (Musica practica, 1482, III.1; De arte canendi, 1540, II).
 */
export function tactusOf({ brevis, semibrevis, minima }: Lengths): Rational {
  if (!semibrevis || !minima) return brevis
  const augmented = minima.num === 2 * minima.den
  return augmented ? minima : over(semibrevis, minima)
}

/** How long the value is at the beginning, in the score's unit; null where it has no fixed length there. */
export function valueIn(score: Score, value: TempoValue): Rational | null {
  const lengths = lengthsOf(score.unit, score.voices[0]?.mensurations[0]?.periods ?? [])
  if (value === "tactus") return tactusOf(lengths)
  if (value === "perfectio") return lengths.longa ?? lengths.brevis
  if (value === "tempus") return lengths.brevis
  if (value === "semiminima") return lengths.minima && over(lengths.minima, ratio(2))
  return lengths[value]
}

/** A range in which editors and singers have mostly set such music: an estimate of ours, not a fact about it. */
export interface TempoRange {
  readonly practice: string
  readonly period: string
  readonly value: TempoValue
  readonly from: number
  readonly to: number
  readonly source: string
}

const MEMORY = "editor's estimate, from memory"
/** The thirteenth-century figures follow the ratios of Speculum musicae, c. 1325, VII.17: the old breve a third of the new. */
export const TEMPO_RANGES: readonly TempoRange[] = [
  { practice: "modal", period: "c. 1200-1250", value: "tempus", from: 180, to: 240, source: MEMORY },
  { practice: "ars-antiqua", period: "c. 1250-1280", value: "tempus", from: 120, to: 160, source: MEMORY },
  { practice: "ars-antiqua", period: "c. 1280-1320", value: "tempus", from: 40, to: 100, source: MEMORY },
  { practice: "divided-breves", period: "c. 1290-1325", value: "tempus", from: 40, to: 60, source: MEMORY },
  { practice: "ars-nova", period: "c. 1315-1420", value: "minima", from: 160, to: 300, source: MEMORY },
  { practice: "trecento", period: "c. 1330-1420", value: "minima", from: 160, to: 300, source: MEMORY },
  { practice: "ars-subtilior", period: "c. 1380-1420", value: "minima", from: 140, to: 260, source: MEMORY },
  {
    practice: "white",
    period: "c. 1430-1600",
    value: "tactus",
    from: 45,
    to: 80,
    source: `${MEMORY}; the beat like the pulse of one who breathes quietly (Practica musicae, 1496, III.4, from memory)`,
  },
]

export const rangesFor = (practice: string): TempoRange[] => TEMPO_RANGES.filter(one => one.practice === practice)

/** The tempo as it is taken. */
export interface TempoTaken {
  readonly unitsPerMinute: number
  /** "editor": an estimate by practice. */
  readonly from: "given" | "editor"
  readonly sentence: string
}

/** Null where the value has no length of its own at the beginning. `speed` is not in it. */
export function tempoTaken(score: Score, tempo: Tempo | undefined): TempoTaken | null {
  if (!tempo) {
    const units = toNumber(unitsPerMinute(score))
    return { unitsPerMinute: units, from: "editor", sentence: estimateSentence(score, units) }
  }
  const value = valueIn(score, tempo.value)
  if (!value) return null
  const units = tempo.perMinute * toNumber(value)
  return {
    unitsPerMinute: units,
    from: "given",
    sentence: `Speed as given: ${tempo.value} = ${tempo.perMinute} in a minute.`,
  }
}

const NAMES: Readonly<Record<TempoValue, string>> = {
  perfectio: "perfections",
  longa: "longs",
  brevis: "breves",
  tempus: "tempora",
  semibrevis: "semibreves",
  minima: "minims",
  semiminima: "semiminims",
  tactus: "beats of the hand",
}
const rounded = (number: number): string => String(Math.round(number * 10) / 10)

function estimateSentence(score: Score, units: number): string {
  const usual = rangesFor(score.practice)
  // Told in what its ranges count, where that has a length here.
  const value = usual[0]?.value ?? (score.unit === "tempus" ? "tempus" : "minima")
  const length = valueIn(score, value)
  const speed = length
    ? `${rounded(units / toNumber(length))} ${NAMES[value]}`
    : `${rounded(units)} of the score's units`
  const ranges = usual.map(one => `${one.period} ${one.from} to ${one.to} ${NAMES[one.value]}`)
  const told = ranges.length > 0 ? ` Usual today: ${ranges.join("; ")}.` : ""
  return `Speed: ${speed} in a minute, an editor's estimate and no fact about the piece.${told}`
}
