/**
 * What a part's canon asks for: an editor's decision, or else the words on the page, or else two signs of mensuration side
 * by side at the head of the part (each for a voice of its own, as in a mensuration canon; common practice).
 */
import { ONE, over, times, ZERO, type Problem, type Rational, type SignId } from "../base/index.js"
import {
  canonVoiceWords,
  mensurationWordOf,
  type Canon,
  type CanonSign,
  type CanonStatement,
  type CanonVoice,
  type FlatSign,
  type Mark,
  type MensurationSign,
  type Voice,
} from "../page/index.js"
import { inscriptionOf, type Divisions, type Inscription } from "../practices/index.js"
import { lengthOf } from "./canon-lengths.js"
import { entryMissing, riddle, stray, supposed } from "./canon-problems.js"
import type { Chosen } from "./settings.js"
import type { CanonReading, SungStatement, SungVoice } from "./sung.js"
import { traitsOf } from "./traits.js"
import type { MensurationSpan, Reading } from "./types.js"

/** Reads the voice with another sign of mensuration in place of those at its head, and without its canon. */
export type ReadUnder = (sign: CanonSign) => Reading

/** The canon of a voice, and what is in doubt about it. */
export interface CanonFound {
  readonly canon?: CanonReading
  readonly problems: readonly Problem[]
}

const NOTHING: CanonFound = { problems: [] }

export function canonOf(
  voice: Voice,
  flat: readonly FlatSign[],
  chosen: Chosen,
  reading: Reading,
  under: ReadUnder,
): CanonFound {
  const inscriptions = chosen.canon ? [] : traitsOf(flat).canons
  const signs = headSigns(flat)
  if (!chosen.canon && inscriptions.length === 0 && signs.length < 2) return NOTHING
  const signa = signaOf(flat)
  const read = inscriptions.map(mark =>
    inscriptionOf(mark.text ?? "", divisionsOf(reading.mensurations[0]), signa.length),
  )
  const problems = inscriptions.flatMap((mark, i) => inscriptionProblems(voice, mark, read[i]!, signs.length > 1))
  const stated = chosen.canon?.canon ?? withSigns(read.find(one => one.canon)?.canon, signs)
  if (!stated) return { problems }
  const base = chosen.canon ? decidedValues(chosen.canon.canon) : over(ONE, wholeRatio(read))
  const resolver = new Resolver({ voice, reading, signa, signs, under, base, usual: chosen.canon ? ONE : base })
  const from = chosen.canon ? "decision" : inscriptions.length > 0 ? "inscription" : "signs"
  const because = chosen.canon
    ? [chosen.canon.sign]
    : [...inscriptions.map(one => one.id), ...(signs.length > 1 ? signs.map(one => one.id) : [])]
  const voices = stated.map(one => resolver.voice(one))
  return { canon: { voices, from, because }, problems: [...problems, ...resolver.problems] }
}

const divisionsOf = (span: MensurationSpan | undefined): Divisions => ({
  modusMaior: span?.modusMaior ?? 2,
  modusMinor: span?.modusMinor ?? 2,
  tempus: span?.tempus ?? 2,
  prolatio: span?.prolatio ?? 2,
})

/** What an editor's canon makes of the values of the part itself: the first voice's, if it sings once. */
export const decidedValues = ([first]: Canon): Rational =>
  (first?.statements.length === 1 ? first.statements[0]!.values : undefined) ?? ONE

const wholeRatio = (read: readonly Inscription[]): Rational =>
  read.reduce((all, { ratio = ONE }) => times(all, ratio), ONE)

/** The note or rest that follows each signum congruentiae; undefined after the last. */
function signaOf(flat: readonly FlatSign[]): (SignId | undefined)[] {
  const found: (SignId | undefined)[] = []
  flat.forEach(({ sign }, at) => {
    if (sign.kind !== "mark" || sign.of !== "signum-congruentiae") return
    const next = flat.slice(at + 1).find(one => one.sign.kind === "note" || one.sign.kind === "rest")
    found.push(next?.sign.id)
  })
  return found
}

/** Signs of mensuration side by side at the head of the part, if they are drawn and differ. */
export function headSigns(flat: readonly FlatSign[]): MensurationSign[] {
  const { first } = traitsOf(flat)
  const head = first < 0 ? flat : flat.slice(0, first)
  const signs = head.flatMap(({ sign }) => (sign.kind === "mensuration" && sign.sign !== undefined ? [sign] : []))
  // one of the voice's definition and one at its beginning are the same sign, said twice
  const alike = signs.filter(one => (one.initial ?? false) === (signs[0]!.initial ?? false))
  const different = new Set(alike.map(one => mensurationWordOf(one as CanonSign)))
  return alike.length === signs.length && different.size === signs.length ? signs : []
}

/** Each voice, or where one voice sings as often as there are signs each statement, has the next sign. */
function withSigns(canon: Canon | undefined, signs: readonly MensurationSign[]): Canon | undefined {
  if (signs.length < 2) return canon
  const drawn = signs.map(({ sign, dots, strokes, figures, reversed }): CanonSign => ({
    sign: sign!,
    ...(dots && { dots }),
    ...(strokes && { strokes }),
    ...(figures && { figures }),
    ...(reversed && { reversed }),
  }))
  const under = (own: CanonVoice): CanonVoice => ({
    ...own,
    statements: own.statements.map((one, i): CanonStatement => ({ ...one, sign: drawn[i]! })),
  })
  if (canon?.length === 1 && canon[0]!.statements.length === signs.length) return [under(canon[0]!)]
  const voices = canon ?? []
  return drawn.map((sign, i) => {
    const own = voices[i] ?? { statements: [{}] }
    return { ...own, statements: own.statements.map(one => ({ ...one, sign })) }
  })
}

function inscriptionProblems(voice: Voice, mark: Mark, read: Inscription, signs: boolean): Problem[] {
  if (read.riddle) return signs ? [] : [riddle(voice, mark)]
  return [
    ...(read.entryMissing && !signs ? [entryMissing(voice, mark)] : []),
    ...(read.supposed.length > 0 ? [supposed(voice, mark, read.supposed)] : []),
  ]
}

interface Given {
  readonly voice: Voice
  readonly reading: Reading
  readonly signa: readonly (SignId | undefined)[]
  readonly signs: readonly MensurationSign[]
  readonly under: ReadUnder
  /** What the durations of the reading are multiplied by already. */
  readonly base: Rational
  /** What those of a statement are that says nothing of values. */
  readonly usual: Rational
}

/** Times and signs for what a canon says in words. */
class Resolver {
  readonly problems: Problem[] = []
  private readonly readings = new Map<string, Reading>()

  constructor(private readonly given: Given) {}

  voice(own: CanonVoice): SungVoice {
    const { label, interval, steps } = own
    return {
      ...(label !== undefined && { label }),
      ...(interval !== undefined && { interval }),
      ...(steps && { steps }),
      words: canonVoiceWords(own),
      enters: this.entry(own),
      statements: own.statements.map(one => this.statement(one)),
    }
  }

  private entry({ entry }: CanonVoice): SungVoice["enters"] {
    const { reading } = this.given
    if (entry === undefined) return ZERO
    if (entry.after === undefined) {
      const sign = this.atSignum(entry.signum)
      return sign === undefined ? ZERO : { with: sign }
    }
    return entry.level ? lengthOf(entry.after, entry.level, reading.mensurations[0], reading.unit) : entry.after
  }

  private atSignum(number: number): SignId | undefined {
    const { signa, voice } = this.given
    if (number > signa.length) this.problems.push(stray(voice, number, signa.length))
    return signa[number - 1]
  }

  private statement(own: CanonStatement): SungStatement {
    const { sign, values, backwards = false, inverted = false, withoutRests = false, until } = own
    const reading = sign && this.under(sign)
    const last = until === undefined ? undefined : this.atSignum(until)
    return {
      // a reading under another sign is in the values written
      by: reading ? (values ?? ONE) : over(values ?? this.given.usual, this.given.base),
      ...(sign && { sign }),
      ...(reading && { reading }),
      backwards,
      inverted,
      withoutRests,
      ...(last && { until: last }),
    }
  }

  /** Undefined for the sign under which the part is read in any case: the last at its head. */
  private under(sign: CanonSign): Reading | undefined {
    const word = mensurationWordOf(sign)
    const inForce = this.given.signs.at(-1) ?? this.given.voice.signs.find(isDrawn)
    if (inForce && mensurationWordOf(inForce as CanonSign) === word) return undefined
    let known = this.readings.get(word)
    if (known === undefined) this.readings.set(word, (known = this.given.under(sign)))
    return known
  }
}

const isDrawn = (sign: Voice["signs"][number]): sign is MensurationSign =>
  sign.kind === "mensuration" && sign.sign !== undefined
