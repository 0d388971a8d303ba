/** From decided durations to the entries of the reading, in page order. */
import { equals, plus, ZERO, type Rational } from "../base/index.js"
import { LEVELS } from "../page/index.js"
import { MAXIMA, SEMIBREVIS } from "../practices/index.js"
import { companionsOf } from "./causes.js"
import { ruleOf } from "./choices.js"
import { durationOf } from "./durations.js"
import type { KnownEntries } from "./known-entries.js"
import { withoutLength } from "./lengthless.js"
import { brevesInRuns, ruleNames, type DecidedFigure, type Naming, type StretchDecisions } from "./naming.js"
import type { SoundingPitches } from "./pitches.js"
import { qualityOf } from "./quality.js"
import type { DraftFigure } from "./draft-figure.js"
import type { Cut, Entry } from "./stretches.js"
import type { SignReading, SignRival } from "./types.js"

const NONE: readonly string[] = []
const NO_RIVALS: SignRival[] = []
type Mutable<T> = { -readonly [K in keyof T]: T[K] }
/** How many rivals of one sign are told. */
const MOST_RIVALS = 5

/** What is told of a voice before its entries are made, and how many of those from before still hold. */
export interface Told {
  readonly cut: Cut
  readonly settled: readonly StretchDecisions[]
  readonly naming: Naming
  readonly pitches: SoundingPitches
  readonly known?: KnownEntries | undefined
}

/** All entries of a voice. */
export function entriesOf(told: Told): readonly SignReading[] {
  const { cut, known } = told
  if (known === undefined) return new EntryWriter(told, []).write(0, cut.entries.length).signs
  if (known.head === cut.entries.length && known.head === known.of.length) return known.of
  const writer = new EntryWriter(told, known.of.slice(0, known.head)).write(known.head, known.tail)
  for (let i = known.tail; i < cut.entries.length; i++) writer.takeOver(known.of[i - known.moved]!, cut.entries[i]!)
  return writer.signs
}

class EntryWriter {
  readonly signs: SignReading[]
  private readonly told: Told
  // one object for the places of all entries: a long voice would make as many that live for a moment
  private readonly place: EntryPlace = { index: 0, number: 0, onset: ZERO, pitch: null }
  private onset: Rational = ZERO
  private breves: (figure: number) => string | undefined = () => undefined
  private brevesIn = -1

  /** `signs` are the entries made so far. */
  constructor(told: Told, signs: SignReading[]) {
    this.told = told
    this.signs = signs
    const last = signs.at(-1)
    if (last !== undefined) this.onset = plus(last.onset, last.duration)
    this.place.number = signs.findLast(one => one.number > 0)?.number ?? 0
  }

  /** Makes the entries `from` up to `to`. */
  write(from: number, to: number): this {
    const { cut, settled, naming } = this.told
    for (let i = from; i < to; i++) {
      const entry = cut.entries[i]!
      const sign = entry.figure < 0 ? withoutLength(entry, i, this.onset, settled, naming) : this.lasting(entry, to)
      this.signs.push(sign)
      if (entry.figure >= 0 || entry.lasts !== undefined) this.onset = plus(this.onset, sign.duration)
    }
    return this
  }

  private lasting(entry: Entry, to: number): SignReading {
    const { settled, naming, pitches } = this.told
    const { stretch, decisions } = settled[entry.stretch]!
    const figure = stretch.figures[entry.figure]!
    this.begin(pitches.nameAt(figure.flat))
    if (entry.stretch !== this.brevesIn) this.countBreves(entry, to)
    return lasting(
      { stretch, figure, decided: decisions[entry.figure]!, decisions },
      this.place,
      naming,
      this.breves(figure.index),
    )
  }

  private begin(pitch: string | null): void {
    this.place.index = this.signs.length
    this.place.number++
    this.place.onset = this.onset
    this.place.pitch = pitch
  }

  /** How runs of breves are counted in the stretch of the entry, as far as it is written anew. */
  private countBreves(entry: Entry, to: number): void {
    const { cut, settled, naming } = this.told
    this.brevesIn = entry.stretch
    if (naming.practice.unit !== "tempus") return
    const after = cut.entries[to]
    const end = after?.stretch === entry.stretch && after.figure >= 0 ? after.figure : Infinity
    this.breves = brevesInRuns(settled[entry.stretch]!, entry.figure, end)
  }

  /** An entry that is known already, at its new place; the same object where nothing moved. */
  takeOver(old: SignReading, entry: Entry): void {
    const { settled, pitches, known } = this.told
    const index = this.signs.length
    const lasts = old.number > 0
    if (lasts) this.place.number++
    const number = lasts ? this.place.number : 0
    const onset = equals(old.onset, this.onset) ? old.onset : this.onset
    const pitch =
      lasts && known!.soundAnew
        ? pitches.nameAt(settled[entry.stretch]!.stretch.figures[entry.figure]!.flat)
        : old.pitch
    const stays = old.index === index && old.number === number && old.pitch === pitch && old.onset === onset
    this.signs.push(stays ? old : { ...old, index, number, onset, pitch })
    if (lasts || entry.lasts !== undefined) this.onset = plus(this.onset, old.duration)
  }
}

/** What an entry says of its place among the others. */
interface EntryPlace {
  index: number
  number: number
  onset: Rational
  pitch: string | null
}

function lasting(at: DecidedFigure, place: EntryPlace, naming: Naming, count: string | undefined): SignReading {
  const { stretch, figure, decided } = at
  const names = ruleNames(at, naming, count)
  // the final is held freely: there is no wrong length to doubt
  const doubt = figure.final ? 0 : Math.min(1, 2 * decided.wrong)
  const entry: Mutable<SignReading> = {
    id: figure.id,
    index: place.index,
    kind: figure.rest ? "rest" : "note",
    number: place.number,
    level: levelName(figure, naming),
    pitch: place.pitch,
    onset: place.onset,
    duration: durationOf(decided.ticks, stretch.measuring.ratio),
    quality: qualityOf(at, naming),
    rule: names[0]!,
    also: names.length === 1 ? NONE : names.slice(1),
    because: companionsOf(at, decided, names[0]!),
    decidedBy: figure.fixedBy ?? "voice",
    doubt: Math.round(doubt * 1e4) / 1e4,
    rivals: rivalsOf(at),
  }
  if (figure.final) entry.held = true
  const refused = figure.ruling?.not
  if (refused !== undefined) entry.refused = refused.map(ticks => durationOf(ticks, stretch.measuring.ratio))
  return entry
}

function levelName(figure: DraftFigure, naming: Naming): SignReading["level"] {
  const byTempus = naming.practice.unit === "tempus"
  if (byTempus && figure.level > SEMIBREVIS) return null
  return byTempus && figure.duplex && figure.level === MAXIMA ? "longa" : LEVELS[figure.level]!
}

function rivalsOf(at: DecidedFigure): SignRival[] {
  const { others } = at.decided
  if (others.length === 0) return NO_RIVALS
  return others.slice(0, MOST_RIVALS).map(other => {
    const rule = ruleOf(other.choice, other.member)
    return {
      duration: durationOf(other.ticks, at.stretch.measuring.ratio),
      rule,
      because: companionsOf(at, other, rule),
      cost: Math.round(other.cost * 100) / 100,
      chance: Math.round(other.chance * 1e4) / 1e4,
    }
  })
}
