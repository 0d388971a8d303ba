/** From decided durations to the entries of the reading, in page order. */
import { plus, ZERO, type Rational } from "../base/index.js"
import { LEVELS } from "../page/index.js"
import { MAXIMA, SEMIBREVIS } from "../practices/index.js"
import { companionsOf } from "./causes.js"
import { ruleOf } from "./choices.js"
import { durationOf } from "./durations.js"
import { withoutLength } from "./lengthless.js"
import { brevesInRuns, ruleNames, type DecidedFigure, type Naming, type StretchDecisions } from "./naming.js"
import { qualityOf } from "./quality.js"
import type { DraftFigure } from "./draft-figure.js"
import type { Cut } from "./stretches.js"
import type { SignReading, SignRival } from "./types.js"

const NONE: readonly string[] = []
const NO_RIVALS: SignRival[] = []
type Mutable<T> = { -readonly [K in keyof T]: T[K] }
/** How many rivals of one sign are told. */
const MOST_RIVALS = 5

/** The entry that a figure had in the reading before, where it still holds. */
export type KnownEntry = (stretch: number, figure: number) => SignReading | undefined

export interface Entries {
  readonly signs: SignReading[]
  /** Those of notes and rests, by stretch and figure. */
  readonly byFigure: SignReading[][]
}

/** All entries of a voice; `pitches` names the pitch of the flat sign at an index. */
export function entriesOf(
  cut: Cut,
  settled: readonly StretchDecisions[],
  naming: Naming,
  pitches: (at: number) => string | null,
  known?: KnownEntry,
): Entries {
  const byFigure: SignReading[][] = settled.map(() => [])
  const signs: SignReading[] = []
  const breves = naming.practice.unit === "tempus" ? settled.map(brevesInRuns) : []
  let onset: Rational = ZERO
  // one object for the places of all entries: a long voice would make as many that live for a moment
  const place: EntryPlace = { index: 0, number: 0, onset, pitch: null }
  for (const entry of cut.entries) {
    if (entry.figure < 0) {
      signs.push(withoutLength(entry, signs.length, onset, settled, naming))
      if (entry.lasts !== undefined) onset = plus(onset, entry.lasts)
      continue
    }
    const { stretch, decisions } = settled[entry.stretch]!
    const figure = stretch.figures[entry.figure]!
    place.index = signs.length
    place.number++
    place.onset = onset
    place.pitch = pitches(figure.flat)
    const old = known?.(entry.stretch, entry.figure)
    const reading =
      old !== undefined
        ? moved(old, place)
        : lasting(
            { stretch, figure, decided: decisions[entry.figure]!, decisions },
            place,
            naming,
            breves[entry.stretch]?.[figure.index],
          )
    signs.push(reading)
    byFigure[entry.stretch]!.push(reading)
    onset = plus(onset, reading.duration)
  }
  return { signs, byFigure }
}

/** What an entry says of its place among the others. */
interface EntryPlace {
  index: number
  number: number
  onset: Rational
  pitch: string | null
}

/** An entry that is known already, at its new place; the same object where nothing moved. */
function moved(old: SignReading, { index, number, onset, pitch }: EntryPlace): SignReading {
  const stays =
    old.index === index &&
    old.number === number &&
    old.pitch === pitch &&
    old.onset.num === onset.num &&
    old.onset.den === onset.den
  return stays ? old : { ...old, index, number, onset, pitch }
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
