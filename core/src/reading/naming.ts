/** Which rules are true of a figure, and in which order they are named: the one that acted first, then what else holds. */
import { ONE, type Rational } from "../base/index.js"
import { LONGA, MAXIMA, SEMIBREVIS, UNIT, type Practice } from "../practices/index.js"
import { ruleOf, type Decided } from "./choices.js"
import type { DraftFigure } from "./draft-figure.js"
import type { Stretch } from "./stretches.js"

/** What names can be given: the rules of the practice. */
export interface Naming {
  readonly practice: Practice
  readonly has: ReadonlySet<string>
}

export interface StretchDecisions {
  readonly stretch: Stretch
  readonly decisions: readonly Decided[]
}

/** A figure of a stretch with what was decided for it. */
export interface DecidedFigure extends StretchDecisions {
  readonly figure: DraftFigure
  readonly decided: Decided
}

/** Durations that no rule gave: nothing else is said of them. */
export const FIXED: ReadonlySet<string> = new Set(["given", "decision"])

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

/** Rules of figures that nothing acts on: in a syncopation the unit that is carried is rather named by that. */
const PASSIVE = new Set(["as-written", "nothing-acts", "number-complete"])
/** A carried unit is less than a perfection: it cannot stand further before the place where the displacement begins. */
const FURTHEST_CARRIED = 24
/** So many figures before a group its long is looked for. */
const FURTHEST_LONG = 12

/** Every rule that is true of the figure, the one to be named first. `count`: how its run of breves is counted. */
export function ruleNames(at: DecidedFigure, naming: Naming, count: string | undefined): readonly string[] {
  const own = ownRule(at)
  if (FIXED.has(own) || isPlain(at, own, count)) return nameAlone(own)
  const { stretch, figure, decisions } = at
  const { choice } = at.decided
  said.begin(naming.has)
  if (!figure.rest && (choice.overruled || overruledLater(figure, decisions))) said.say("closure")
  if (ACTING.has(own)) said.put(own)
  if (figure.drawn) said.say("ligatura")
  if (figure.conjunctura && (figure.level >= SEMIBREVIS || !ACTING.has(own))) said.say("conjunctura")
  if (SHAPES.has(own)) said.put(own)
  if (figure.duplex && figure.level === MAXIMA) said.say("duplex-longa")
  if (choice.group !== undefined && naming.has.has(PRO_ALTERA) && standsForAltera(at)) said.putFirst(PRO_ALTERA)
  if (!isOne(stretch.measuring.ratio)) said.say("proportio")
  if (count !== undefined && own === "as-written") said.say(count)
  if (!said.has(own)) said.put(own)
  if (choice.shiftBefore > 0 || choice.shiftAfter > 0 || choice.crosses) said.say("syncopatio")
  return said.all()
}

/** Names are put together in one row that is written anew for each figure: a list that grows has room for many more. */
class Said {
  private readonly names: string[] = []
  private count = 0
  private known: ReadonlySet<string> = new Set()

  /** For another figure; `known` are the names that can be given. */
  begin(known: ReadonlySet<string>): void {
    this.known = known
    this.count = 0
  }
  has(name: string): boolean {
    for (let n = 0; n < this.count; n++) if (this.names[n] === name) return true
    return false
  }
  put(name: string): void {
    this.names[this.count++] = name
  }
  putFirst(name: string): void {
    for (let n = this.count++; n > 0; n--) this.names[n] = this.names[n - 1]!
    this.names[0] = name
  }
  /** Puts a name of the practice that was not put yet. */
  say(name: string): void {
    if (this.known.has(name) && !this.has(name)) this.put(name)
  }
  all(): readonly string[] {
    return this.count === 1 ? nameAlone(this.names[0]!) : this.names.slice(0, this.count)
  }
}
const said = new Said()

/** Nothing is true of the figure but the rule that acted, as of most. */
function isPlain({ stretch, figure, decided, decisions }: DecidedFigure, own: string, count?: string): boolean {
  const { overruled, group, shiftBefore, shiftAfter, crosses } = decided.choice
  if (figure.drawn || figure.conjunctura || figure.duplex || group !== undefined || crosses || overruled) return false
  if (shiftBefore > 0 || shiftAfter > 0 || !isOne(stretch.measuring.ratio)) return false
  return (count === undefined || own !== "as-written") && (figure.rest || !overruledLater(figure, decisions))
}

/** Lists of one name each, made once. */
const alone = new Map<string, readonly string[]>()
function nameAlone(name: string): readonly string[] {
  let list = alone.get(name)
  if (list === undefined) alone.set(name, (list = [name]))
  return list
}

const PRO_ALTERA = "semibreves-pro-altera"

/**
 * In a syncopation the unit that is carried bears the name; the notes it is carried past are whole because their like
 * or their dot keeps them so.
 */
function ownRule(at: DecidedFigure): string {
  const { stretch, figure, decided } = at
  const own = ruleOf(decided.choice, decided.member)
  if (own === "syncopatio") {
    if (figure.dot !== undefined && decided.choice.dot === "perfection") return "punctus-perfectionis"
    return stretch.figures[figure.index + 1]?.level === figure.level ? "similis-ante-similem" : own
  }
  if (figure.rest || decided.choice.group !== undefined || !PASSIVE.has(own)) return own
  return isCarried(at) ? "syncopatio" : own
}

/** Whether the displacement of the perfections begins with the unit this figure belongs to. */
function isCarried({ stretch, figure, decisions }: DecidedFigure): boolean {
  const { choice } = decisions[figure.index]!
  if (choice.shiftBefore > 0) return false
  if (choice.shiftAfter > 0) return choice.openWall
  for (let i = figure.index + 1; i < Math.min(decisions.length, figure.index + FURTHEST_CARRIED); i++) {
    const later = decisions[i]!.choice
    if (later.shiftAfter > 0 && later.shiftBefore === 0)
      return later.rule === "syncopatio" && ticksBetween(decisions, figure.index, i) <= later.shiftAfter
    if (stretch.figures[i]!.level < figure.level || later.shiftBefore > 0) return false
  }
  return false
}

function ticksBetween(decisions: readonly Decided[], from: number, to: number): number {
  let ticks = 0
  for (let i = from; i < to; i++) ticks += decisions[i]!.ticks
  return ticks
}

const isOne = (by: Rational): boolean => by.num === ONE.num && by.den === ONE.den

/** The last of two units before a long is a group of semibreves: the place of an altera. */
function standsForAltera({ stretch, figure, decided }: DecidedFigure): boolean {
  const { length } = decided.choice
  const from = figure.index - decided.member
  const after = stretch.figures[from + length]
  if (after === undefined || after.level !== LONGA || length > 3 || length < 2) return false
  const opener = stretch.figures.slice(Math.max(0, from - FURTHEST_LONG), from).findLast(f => f.level <= LONGA)
  return opener?.runs[LONGA]?.units === 2 && opener.index + opener.runs[LONGA].distance === after.index
}

/** The count of the run that this long opened was overruled, which shows only where the run ends. */
function overruledLater(figure: DraftFigure, decisions: readonly Decided[]): boolean {
  const run = figure.runs[LONGA]
  if (!decisions[figure.index]!.choice.opens) return false
  const limit = run === undefined || run.distance < 0 ? decisions.length - 1 : figure.index + run.distance
  for (let i = figure.index + 1; i <= limit; i++) {
    if (decisions[i]!.choice.overruledRun) return true
    if (decisions[i]!.choice.opens) return false
  }
  return false
}

/** For each breve of the Ars antiqua how its run is counted when no long before it is free; of the figures `first` up to `end`. */
export function brevesInRuns(
  { stretch, decisions }: StretchDecisions,
  first: number,
  end: number,
): (figure: number) => string | undefined {
  const { figures, mensuration } = stretch
  if (mensuration.divisions[LONGA] !== 3) return () => undefined
  let from = first
  while (from > 0 && figures[from]!.level > LONGA && !isWalled(figures[from - 1]!)) from--
  const start = from
  const names: (string | undefined)[] = []
  const nameOf = (figure: number): string | undefined => names[figure - start]
  let name: string | undefined = "breves-in-threes"
  const close = (to: number): void => {
    const units = ticksBetween(decisions, from, to) / UNIT
    if (name !== undefined && units >= 3) for (let i = from; i < to; i++) names[i - start] = name
  }
  for (let i = from; i < figures.length; i++) {
    const figure = figures[i]!
    if (figure.level <= LONGA) {
      close(i)
      from = i + 1
      name = figure.rest ? "breves-in-threes" : decisions[i]!.choice.front > 0 ? "count-from-zero" : undefined
    }
    if (isWalled(figure)) {
      if (figure.level > LONGA) close(i + 1)
      from = i + 1
      name = "breves-in-threes"
    }
    if (from >= end) return nameOf
  }
  close(figures.length)
  return nameOf
}

const isWalled = (figure: DraftFigure): boolean =>
  figure.dot !== undefined || (figure.stroke !== undefined && !figure.strokeGroup)
