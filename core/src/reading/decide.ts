/** From decided durations to the entries of the reading: rule, causes, quality, doubt, rivals. */
import { ONE, plus, ZERO, type Problem, type Rational, type SignId } from "../base/index.js"
import { LEVELS } from "../page/index.js"
import { BREVIS, LONGA, MAXIMA, MINIMA, SEMIBREVIS, UNIT, type Practice } from "../practices/index.js"
import { companionsOf } from "./causes.js"
import { ruleOf, type Decided } from "./settle.js"
import { durationOf } from "./durations.js"
import { type Cut, type DraftFigure, type Entry, type Stretch } from "./stretches.js"
import type { Quality, SignKind, SignReading, SignRival } from "./types.js"

export interface StretchDecisions {
  readonly stretch: Stretch
  readonly decisions: readonly Decided[]
}

const NONE: readonly string[] = []
const NO_RIVALS: SignRival[] = []

/** Rules in the order in which one is named when several are true. */
const FIRST = ["given", "decision"]

export interface Naming {
  readonly practice: Practice
  readonly has: ReadonlySet<string>
}

export function entriesOf(
  cut: Cut,
  settled: readonly StretchDecisions[],
  naming: Naming,
  pitches: (at: number) => string | null,
  known?: KnownEntry,
): { signs: SignReading[]; byFigure: SignReading[][] } {
  const byFigure: SignReading[][] = settled.map(() => [])
  const signs: SignReading[] = []
  let onset: Rational = ZERO
  let number = 0
  const breves = naming.practice.unit === "tempus" ? settled.map(s => brevesInRuns(s)) : []
  for (const entry of cut.entries) {
    const { stretch, decisions } = settled[entry.stretch]!
    if (entry.figure < 0) {
      signs.push(withoutLength(entry, signs.length, onset, settled, naming))
      continue
    }
    const figure = stretch.figures[entry.figure]!
    const decided = decisions[entry.figure]!
    number++
    const old = known?.(entry.stretch, entry.figure)
    const reading =
      old !== undefined
        ? moved(old, signs.length, number, onset, pitches(figure.flat))
        : lasting(
            signs.length,
            number,
            onset,
            stretch,
            figure,
            decided,
            decisions,
            naming,
            breves[entry.stretch],
            pitches,
          )
    signs.push(reading)
    byFigure[entry.stretch]!.push(reading)
    onset = plus(onset, reading.duration)
  }
  return { signs, byFigure }
}

/** The entry that a figure had in the reading before, where it still holds. */
export type KnownEntry = (stretch: number, figure: number) => SignReading | undefined

/** An entry that is known already, at its new place; the same object where nothing moved. */
function moved(old: SignReading, index: number, number: number, onset: Rational, pitch: string | null): SignReading {
  if (
    old.index === index &&
    old.number === number &&
    old.pitch === pitch &&
    old.onset.num === onset.num &&
    old.onset.den === onset.den
  )
    return old
  return { ...old, index, number, onset, pitch }
}

function lasting(
  index: number,
  number: number,
  onset: Rational,
  stretch: Stretch,
  figure: DraftFigure,
  decided: Decided,
  decisions: readonly Decided[],
  naming: Naming,
  breves: readonly (string | undefined)[] | undefined,
  pitches: (at: number) => string | null,
): SignReading {
  const by = stretch.measuring.ratio
  const names = ruleNames(stretch, figure, decided, decisions, naming, breves)
  // the final is held freely: there is no wrong length to doubt
  const doubt = figure.final ? 0 : Math.min(1, 2 * decided.wrong)
  return {
    id: figure.id,
    index,
    kind: figure.rest ? "rest" : "note",
    number,
    level: levelName(figure, naming),
    pitch: pitches(figure.flat),
    onset,
    duration: durationOf(decided.ticks, by),
    quality: qualityOf(stretch, figure, decided, naming),
    rule: names[0]!,
    also: names.length === 1 ? NONE : names.slice(1),
    because: companionsOf(stretch, figure, decided, decisions, names[0]!),
    decidedBy: figure.fixedBy ?? "voice",
    doubt: Math.round(doubt * 1e4) / 1e4,
    rivals: rivalsOf(stretch, figure, decided, decisions, by),
    ...(figure.final ? { held: true } : {}),
  }
}

function levelName(figure: DraftFigure, naming: Naming): SignReading["level"] {
  if (naming.practice.unit === "tempus" && figure.level > SEMIBREVIS) return null
  if (figure.duplex && figure.level === MAXIMA && naming.practice.unit === "tempus") return "longa"
  return LEVELS[figure.level]!
}

function rivalsOf(
  stretch: Stretch,
  figure: DraftFigure,
  decided: Decided,
  decisions: readonly Decided[],
  by: Rational,
): SignRival[] {
  if (decided.others.length === 0) return NO_RIVALS
  return decided.others.slice(0, 5).map(other => ({
    duration: durationOf(other.ticks, by),
    rule: ruleOf(other.choice, other.member),
    because: companionsOf(stretch, figure, other, decisions, ruleOf(other.choice, other.member)),
    cost: Math.round(other.cost * 100) / 100,
    chance: Math.round(other.chance * 1e4) / 1e4,
  }))
}

/** Every rule that is true of the figure, the one to be named first. */
function ruleNames(
  stretch: Stretch,
  figure: DraftFigure,
  decided: Decided,
  decisions: readonly Decided[],
  naming: Naming,
  breves: readonly (string | undefined)[] | undefined,
): string[] {
  const own = ownRule(stretch, figure, decided, decisions)
  if (FIRST.includes(own)) return [own]
  const names: string[] = []
  const say = (id: string): void => {
    if (naming.has.has(id) && !names.includes(id)) names.push(id)
  }
  if (!figure.rest && (decided.choice.overruled || overruledLater(figure, decisions))) say("closure")
  if (ACTING.has(own)) names.push(own)
  if (figure.drawn) say("ligatura")
  if (figure.conjunctura && figure.level >= SEMIBREVIS) say("conjunctura")
  if (figure.conjunctura && figure.level < SEMIBREVIS && !ACTING.has(own)) say("conjunctura")
  if (SHAPES.has(own)) names.push(own)
  if (figure.duplex && figure.level === MAXIMA) say("duplex-longa")
  if (
    decided.choice.group !== undefined &&
    naming.has.has("semibreves-pro-altera") &&
    standsForAltera(stretch, figure, decided)
  )
    names.unshift("semibreves-pro-altera")
  if (!isOne(stretch.measuring.ratio)) say("proportio")
  const count = breves?.[figure.index]
  if (count !== undefined && own === "as-written") say(count)
  if (!names.includes(own)) names.push(own)
  if (decided.choice.shiftBefore > 0 || decided.choice.shiftAfter > 0 || decided.choice.crosses) say("syncopatio")
  return names
}

/**
 * In a syncopation the unit that is carried bears the name; the notes it is carried past are whole because their like
 * or their dot keeps them so.
 */
function ownRule(stretch: Stretch, figure: DraftFigure, decided: Decided, decisions: readonly Decided[]): string {
  const own = ruleOf(decided.choice, decided.member)
  if (own === "syncopatio") {
    const next = stretch.figures[figure.index + 1]
    if (figure.dot !== undefined && decided.choice.dot === "perfection") return "punctus-perfectionis"
    return next !== undefined && next.level === figure.level ? "similis-ante-similem" : own
  }
  if (
    figure.rest ||
    decided.choice.group !== undefined ||
    !["as-written", "nothing-acts", "number-complete"].includes(own)
  )
    return own
  return isCarried(stretch, figure, decisions) ? "syncopatio" : own
}

/** Whether the displacement of the perfections begins with the unit this figure belongs to. */
function isCarried(stretch: Stretch, figure: DraftFigure, decisions: readonly Decided[]): boolean {
  const { choice } = decisions[figure.index]!
  if (choice.shiftBefore > 0) return false
  if (choice.shiftAfter > 0) return choice.openWall
  // a carried unit is less than a perfection: it cannot stand far before the place where the displacement begins
  for (let i = figure.index + 1; i < Math.min(decisions.length, figure.index + 24); i++) {
    const later = decisions[i]!.choice
    if (later.shiftAfter > 0 && later.shiftBefore === 0)
      return later.rule === "syncopatio" && worthBetween(decisions, figure.index, i) <= later.shiftAfter
    if (stretch.figures[i]!.level < figure.level || later.shiftBefore > 0) return false
  }
  return false
}

function worthBetween(decisions: readonly Decided[], from: number, to: number): number {
  let ticks = 0
  for (let i = from; i < to; i++) ticks += decisions[i]!.ticks
  return ticks
}

const isOne = (by: Rational): boolean => by.num === ONE.num && by.den === ONE.den

/** Rules that are named before the form of the figure. */
const ACTING = new Set([
  "alteratio",
  "alteratio-et-imperfectio",
  "imperfectio-a-parte-post",
  "imperfectio-a-parte-ante",
  "imperfectio-ab-utraque-parte",
  "imperfectio-ad-partem",
  "imperfectio-ad-totum-et-partem",
  "coloratio",
  "semicoloratio",
  "minor-color",
  "isolated-black",
  "black-minims",
  "punctus-additionis",
  "syncopatio",
  "suspirium",
])
const SHAPES = new Set([
  "local-shape",
  "via-artis",
  "via-naturae",
  "stem-lengthens",
  "semibrevis-minor-maior",
  "semibreves-aequales",
  "semibreves-undivided",
  "semibreves-pro-altera",
  "semibrevis-sola",
  "brevis-divisa",
  "duplex-longa",
])

/** The last of two units before a long is a group of semibreves: the place of an altera. */
function standsForAltera(stretch: Stretch, figure: DraftFigure, decided: Decided): boolean {
  const { length } = decided.choice
  const from = figure.index - decided.member
  const after = stretch.figures[from + length]
  if (after === undefined || after.level !== LONGA || length > 3 || length < 2) return false
  const opener = stretch.figures.slice(Math.max(0, from - 12), from).findLast(f => f.level <= LONGA)
  return opener?.runs[LONGA]?.units === 2 && opener.runs[LONGA].until === after.index
}

function overruledLater(figure: DraftFigure, decisions: readonly Decided[]): boolean {
  const run = figure.runs[LONGA]
  if (!decisions[figure.index]!.choice.opens) return false
  const limit = run === undefined || run.until < 0 ? decisions.length - 1 : run.until
  for (let i = figure.index + 1; i <= limit; i++) {
    if (decisions[i]!.choice.overruledRun) return true
    if (decisions[i]!.choice.opens) return false
  }
  return false
}

/** For each breve of the Ars antiqua how its run is counted when no long before it is free. */
function brevesInRuns({ stretch, decisions }: StretchDecisions): (string | undefined)[] {
  const names: (string | undefined)[] = new Array<string | undefined>(stretch.figures.length).fill(undefined)
  if (stretch.mensuration.divisions[LONGA] !== 3) return names
  let from = 0
  let name: string | undefined = "breves-in-threes"
  const close = (to: number): void => {
    const units = unitsBetween(decisions, from, to)
    if (name !== undefined && units >= 3) for (let i = from; i < to; i++) names[i] = name
  }
  stretch.figures.forEach((figure, i) => {
    const walled = figure.dot !== undefined || (figure.stroke !== undefined && !figure.strokeGroup)
    if (figure.level <= LONGA) {
      close(i)
      from = i + 1
      name = figure.rest ? "breves-in-threes" : decisions[i]!.choice.front > 0 ? "count-from-zero" : undefined
    }
    if (walled) {
      if (figure.level > LONGA) close(i + 1)
      from = i + 1
      name = "breves-in-threes"
    }
  })
  close(stretch.figures.length)
  return names
}

function unitsBetween(decisions: readonly Decided[], from: number, to: number): number {
  let ticks = 0
  for (let i = from; i < to; i++) ticks += decisions[i]!.ticks
  return ticks / UNIT
}

function qualityOf(stretch: Stretch, figure: DraftFigure, decided: Decided, naming: Naming): Quality | null {
  if (figure.rest) return null
  const { divisions, full, perfect } = stretch.mensuration
  const own = decided.choice.rule
  if (own === "alteratio" || own === "alteratio-et-imperfectio") return "altera"
  if (naming.practice.unit === "tempus") return qualityByTempus(figure, decided, perfect.includes(LONGA))
  if (figure.level >= MINIMA) return null
  if (decided.choice.group !== undefined) return null
  if (divisions[figure.level] !== 3) return "imperfecta"
  return decided.ticks > full[figure.level]! - full[figure.level + 1]! ? "perfecta" : "imperfecta"
}

function qualityByTempus(figure: DraftFigure, decided: Decided, perfect: boolean): Quality | null {
  if (figure.level === MAXIMA) return "duplex"
  if (figure.level === LONGA) return perfect && decided.ticks === 3 * UNIT ? "perfecta" : "imperfecta"
  if (figure.level === BREVIS) return decided.ticks === 2 * UNIT ? "altera" : null
  const third = UNIT / 3
  return decided.ticks === third ? "minor" : decided.ticks === 2 * third ? "maior" : null
}

function withoutLength(
  entry: Entry,
  index: number,
  onset: Rational,
  settled: readonly StretchDecisions[],
  naming: Naming,
): SignReading {
  const { sign } = entry
  const takenFor = entry.takenFor ?? meaningOf(sign.id, entry, settled)
  const kind: SignKind =
    sign.kind === "dot" ||
    sign.kind === "stroke" ||
    sign.kind === "mensuration" ||
    sign.kind === "proportion" ||
    sign.kind === "rest"
      ? sign.kind
      : "other"
  const rule =
    takenFor !== undefined && naming.has.has(takenFor)
      ? takenFor
      : kind === "proportion" && naming.has.has("proportio")
        ? "proportio"
        : "as-written"
  return {
    id: sign.id,
    index,
    kind,
    number: 0,
    level: null,
    pitch: null,
    onset,
    duration: ZERO,
    quality: null,
    rule,
    also: NONE,
    because: [],
    decidedBy: "voice",
    doubt: 0,
    rivals: [],
    ...(takenFor ? { takenFor } : {}),
  }
}

/** What a dot or a stroke was taken for, from the figure before it. */
function meaningOf(id: SignId, entry: Entry, settled: readonly StretchDecisions[]): string | undefined {
  if (entry.after < 0) return undefined
  const { stretch, decisions } = settled[entry.stretch]!
  const figure = stretch.figures[entry.after]
  if (figure === undefined || (figure.dot !== id && figure.stroke !== id)) return undefined
  const { choice } = decisions[figure.index]!
  if (figure.stroke === id)
    return choice.rule === "punctus-perfectionis" && figure.dot === undefined
      ? "punctus-perfectionis"
      : "punctus-divisionis"
  if (choice.dot === "augmentation") return "punctus-additionis"
  if (choice.dot === "perfection" && choice.rule === "punctus-perfectionis") return "punctus-perfectionis"
  return choice.dot === "alteration" ? "alteratio" : "punctus-divisionis"
}

export function openPlaces(
  settled: readonly StretchDecisions[],
  label: string,
  place: (id: SignId) => string,
): Problem[] {
  const problems: Problem[] = []
  for (const { decisions, stretch } of settled)
    for (let i = 0; i < decisions.length; i++) {
      const { choice, member } = decisions[i]!
      if (member !== 0) continue
      const id = stretch.figures[i]!.id
      if (choice.left) problems.push(openPerfection(id, place(id), label))
      if (choice.group !== undefined && choice.rule === "semibrevis-sola") problems.push(lone(id, place(id)))
    }
  return problems
}

export function openPerfection(id: SignId, place: string, label: string): Problem {
  return {
    code: "open-perfection",
    what: `In ${label} the perfection before ${place} is not full.`,
    where: { sign: id, place },
    mend: "Look for a missing or superfluous dot, stem or rest just before it, or another mensuration.",
  }
}

function lone(id: SignId, place: string): Problem {
  return {
    code: "single-semibreve",
    what: `A semibreve stands alone at ${place}; on a breve there are two or three.`,
    where: { sign: id, place },
    mend: "Look for a missing semibreve beside it, or a breve written as a semibreve.",
  }
}
