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
  let number = 0
  for (const entry of cut.entries) {
    if (entry.figure < 0) {
      signs.push(withoutLength(entry, signs.length, onset, settled, naming))
      if (entry.lasts !== undefined) onset = plus(onset, entry.lasts)
      continue
    }
    const { stretch, decisions } = settled[entry.stretch]!
    const figure = stretch.figures[entry.figure]!
    const place: EntryPlace = { index: signs.length, number: ++number, onset, pitch: pitches(figure.flat) }
    const old = known?.(entry.stretch, entry.figure)
    const at = { stretch, figure, decided: decisions[entry.figure]!, decisions }
    const reading =
      old !== undefined ? moved(old, place) : lasting(at, place, naming, breves[entry.stretch]?.[figure.index])
    signs.push(reading)
    byFigure[entry.stretch]!.push(reading)
    onset = plus(onset, reading.duration)
  }
  return { signs, byFigure }
}

/** What an entry says of its place among the others. */
type EntryPlace = Pick<SignReading, "index" | "number" | "onset" | "pitch">

/** An entry that is known already, at its new place; the same object where nothing moved. */
function moved(old: SignReading, place: EntryPlace): SignReading {
  const stays =
    old.index === place.index &&
    old.number === place.number &&
    old.pitch === place.pitch &&
    old.onset.num === place.onset.num &&
    old.onset.den === place.onset.den
  return stays ? old : { ...old, ...place }
}

function lasting(at: DecidedFigure, place: EntryPlace, naming: Naming, count: string | undefined): SignReading {
  const { stretch, figure, decided } = at
  const names = ruleNames(at, naming, count)
  // the final is held freely: there is no wrong length to doubt
  const doubt = figure.final ? 0 : Math.min(1, 2 * decided.wrong)
  return {
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
    ...(figure.final ? { held: true } : {}),
    ...(figure.ruling?.not === undefined
      ? {}
      : { refused: figure.ruling.not.map(ticks => durationOf(ticks, stretch.measuring.ratio)) }),
  }
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
