/**
 * A voice cut into stretches under one mensuration, its notes and rests as figures for the rules, and every sign that
 * will have an entry in the reading, in page order.
 */
import { minus, ONE, over, ratio, times, type Rational, type SignId } from "../base/index.js"
import { LEVELS, type FlatSign, type Ligature, type Note, type Rest, type Sign, type Voice } from "../page/index.js"
import {
  BREVIS,
  colourEffects,
  isDrawn,
  ligatureLevels,
  LONGA,
  MAXIMA,
  mensurationByTempus,
  mensurationOf,
  measuringAfter,
  measuringOf,
  SEMIBREVIS,
  UNIT,
  type Figure,
  type Inked,
  type Measuring,
  type Mensuration,
} from "../practices/index.js"
import type { Chosen, ReadOptions } from "./settings.js"
import type { From } from "./types.js"

type Mutable<T> = { -readonly [K in keyof T]: T[K] }
export type DraftFigure = Mutable<Figure> & {
  note?: Note
  restSign?: Rest
  flat: number
  restKnown: boolean
  strokeIsDot?: boolean
  strokeIsRound?: boolean
}

export interface Stretch {
  readonly mensuration: Mensuration
  readonly measuring: Measuring
  readonly from: From
  readonly sign?: SignId
  readonly figures: DraftFigure[]
  /** Begins after a finis punctorum or a change of colour: not after a sign. */
  readonly quiet: boolean
}

/** A sign with an entry in the reading: a figure by its stretch, or a sign without length. */
export interface Entry {
  readonly sign: Exclude<Sign, Ligature>
  readonly stretch: number
  /** Index of the figure in its stretch; -1 for a sign that does not last. */
  readonly figure: number
  /** For a dot or stroke: the figure it stands after; -1 for none. */
  readonly after: number
  readonly takenFor?: string
}

export interface Cut {
  readonly stretches: Stretch[]
  readonly entries: Entry[]
}

const LEVEL_NUMBER: Record<string, number> = Object.fromEntries(LEVELS.map((level, i) => [level, i]))
const UNCOUNTED: DraftFigure["runs"] = []
const DOWN = new Set(["down", "sw", "se"])

export function cutVoice(voice: Voice, flat: readonly FlatSign[], chosen: Chosen, options: ReadOptions): Cut {
  return new Cutter(voice, flat, chosen, options).run()
}

class Cutter {
  private readonly stretches: Stretch[] = []
  private readonly entries: Entry[] = []
  private readonly rules: ReadonlySet<string>
  private measuring: Measuring
  private signRatio: Rational = ONE
  private from: From = "inferred"
  private current!: Stretch
  private last: DraftFigure | undefined
  private ligature: Ligature | undefined
  private ligatureNumber = -1
  private levels: number[] = []
  private ligatureDrawn = false
  private atNote = 0
  private coloured = false
  private readonly texted: boolean
  private readonly byTempus: boolean

  constructor(
    private readonly voice: Voice,
    private readonly flat: readonly FlatSign[],
    private readonly chosen: Chosen,
    private readonly options: ReadOptions,
  ) {
    this.rules = new Set(chosen.practice.rules.map(rule => rule.id))
    this.byTempus = chosen.practice.unit === "tempus"
    this.measuring = {
      modusMaior: 2,
      modusMinor: this.byTempus ? 3 : 2,
      tempus: this.byTempus ? 3 : 2,
      prolatio: 2,
      ratio: ONE,
    }
    this.texted = flat.some(f => f.sign.kind === "note" && f.sign.syllables.length > 0)
    this.open(undefined, true)
  }

  run(): Cut {
    for (let i = 0; i < this.flat.length; i++) this.take(this.flat[i]!, i)
    this.closeColour()
    if (this.stretches.length > 1 && this.current.figures.length === 0 && this.current.quiet) this.stretches.pop()
    const final = this.lastNote()
    if (final) final.final = true
    return { stretches: this.stretches, entries: this.entries }
  }

  private lastNote(): DraftFigure | undefined {
    for (let s = this.stretches.length - 1; s >= 0; s--) {
      const found = this.stretches[s]!.figures.findLast(f => !f.rest)
      if (found) return found
    }
    return undefined
  }

  private open(sign: SignId | undefined, quiet: boolean): void {
    const m = this.measuring
    const mensuration = this.byTempus
      ? mensurationByTempus(m.modusMinor, m.tempus)
      : mensurationOf(m.modusMaior, m.modusMinor, m.tempus, m.prolatio)
    const stretch: Stretch = { mensuration, measuring: m, from: this.from, sign, figures: [], quiet }
    if (this.current !== undefined && this.current.figures.length === 0)
      this.stretches[this.stretches.length - 1] = stretch
    else {
      if (this.current !== undefined) this.closeColour()
      this.stretches.push(stretch)
    }
    this.current = stretch
    this.last = undefined
  }

  private take(flat: FlatSign, at: number): void {
    const { sign } = flat
    switch (sign.kind) {
      case "note":
        return this.takeNote(flat, sign, at)
      case "rest":
        return this.takeRest(sign, at)
      case "dot":
        return this.takeDot(sign)
      case "stroke":
        return this.takeStroke(sign)
      case "mensuration":
        if (sign.initial !== true) this.takeModusRests()
        this.from = "given"
        this.measuring = measuringOf(sign, this.measuring, this.chosen.settings)
        if (sign.sign !== undefined || sign.letter !== undefined) this.signRatio = this.measuring.ratio
        if (!this.rules.has("proportio")) this.measuring = { ...this.measuring, ratio: ONE }
        this.open(sign.id, false)
        this.enter(sign)
        return
      case "proportion":
        if (this.rules.has("proportio") && sign.extra?.["type"] !== "figura.signi")
          this.measuring = measuringAfter(sign, this.measuring, this.signRatio, this.chosen.settings)
        this.open(sign.id, false)
        this.enter(sign)
        return
      default:
        return
    }
  }

  /** Longa rests before the first sign of tempus are signs of modus and are not counted (option modusRestCode). */
  private takeModusRests(): void {
    const { figures } = this.current
    const code = this.chosen.settings["modusRestCode"]
    if (
      this.chosen.practice.name !== "white" ||
      code === undefined ||
      this.stretches.length > 1 ||
      figures.length === 0
    )
      return
    if (figures.some(f => !f.rest || f.level !== LONGA)) return
    const three = figures.filter(f => (f.restSign?.spaces?.num ?? 2) >= 3).length
    const maior = code === "twoPlusOne" ? three >= 2 : figures.length >= 3
    const minor = code === "twoPlusOne" ? three >= 3 || three === 1 : three > 0
    this.measuring = { ...this.measuring, modusMaior: maior ? 3 : 2, modusMinor: minor ? 3 : 2 }
    this.entries.forEach((entry, i) => {
      if (entry.figure >= 0) this.entries[i] = { ...entry, figure: -1, takenFor: "signum-modi" }
    })
    figures.length = 0
  }

  private enter(sign: Exclude<Sign, Ligature>, figure = -1, takenFor?: string): void {
    this.entries.push({
      sign,
      stretch: this.stretches.length - 1,
      figure,
      after: figure < 0 ? (this.last?.index ?? -1) : -1,
      takenFor,
    })
  }

  private takeNote(flat: FlatSign, note: Note, at: number): void {
    this.enterLigature(flat.ligature)
    const level = this.levelOf(note)
    this.followColour(note)
    const full = this.current.mensuration.full[level]!
    const figure = this.figure(note.id, level, false, full, at)
    figure.note = note
    figure.coloured = note.coloration !== "none"
    figure.duplex = note.duplex === true
    figure.stemDown =
      note.stems.length > 0 && flat.ligature === undefined && note.stems.some(s => s.direction === "down")
    figure.stemOblique = note.stems.length > 0 && note.stems.some(s => s.form === "oblique" && DOWN.has(s.direction))
    figure.syllable = note.syllables.length > 0
    if (flat.ligature) {
      figure.ligature = this.ligatureNumber
      figure.ligatureStart = flat.at === 0
      figure.ligatureEnd = flat.last === true
      figure.conjunctura = flat.ligature.conjunctura === true
      figure.drawn = this.ligatureDrawn && this.rules.has("ligatura")
      this.atNote++
    }
    this.fix(figure, note, level)
    this.shape(figure, note)
    this.push(figure, note)
  }

  private levelOf(note: Note): number {
    if (note.duplex === true && note.level === "longa") return MAXIMA
    if (note.level !== undefined) return LEVEL_NUMBER[note.level]!
    return this.levels[this.atNote] ?? BREVIS
  }

  private enterLigature(ligature: Ligature | undefined): void {
    if (ligature === this.ligature) return
    this.ligature = ligature
    if (ligature === undefined) return
    this.ligatureNumber++
    this.atNote = 0
    const notes = ligature.members.filter(m => m.kind === "note")
    this.ligatureDrawn = ligature.conjunctura !== true && isDrawn(ligature, notes)
    const open = notes.some(n => n.level === undefined)
    this.levels =
      open && this.rules.has("ligatura")
        ? ligatureLevels(ligature, notes, this.byTempus ? "acm-1280" : "mensural", this.chosen.settings)
        : []
  }

  private figure(id: SignId, level: number, rest: boolean, full: number, flat: number): DraftFigure {
    return {
      id,
      index: this.current.figures.length,
      level,
      rest,
      full,
      coloured: false,
      stemDown: false,
      stemOblique: false,
      duplex: false,
      ligature: -1,
      ligatureStart: false,
      ligatureEnd: false,
      conjunctura: false,
      drawn: false,
      syllable: false,
      texted: this.texted,
      shortLongRest: false,
      final: false,
      localShape: false,
      runs: UNCOUNTED,
      flat,
      restKnown: false,
    }
  }

  private push(figure: DraftFigure, sign: Note | Rest): void {
    this.current.figures.push(figure)
    this.last = figure
    this.enter(sign, figure.index)
  }

  private takeRest(rest: Rest, at: number): void {
    this.enterLigature(undefined)
    const measured = this.measureRest(rest)
    if (measured === undefined) {
      this.enter(rest, -1, "finis-punctorum")
      return this.open(undefined, true)
    }
    const figure = this.figure(rest.id, measured.level, true, measured.ticks, at)
    figure.restSign = rest
    figure.restKnown = measured.known
    figure.shortLongRest = measured.short
    figure.coloured = rest.coloration !== "none"
    if (rest.near) figure.near = rest.near
    this.fix(figure, rest, measured.level)
    this.push(figure, rest)
  }

  /** Value of a rest by its length, else by its name; undefined for a stroke that ends everything. */
  private measureRest(rest: Rest): { level: number; ticks: number; known: boolean; short: boolean } | undefined {
    const full = this.current.mensuration.full
    const modus = this.current.mensuration.divisions[LONGA]!
    if (rest.spaces !== undefined) {
      const tempora = this.byTempus
        ? restTempora(rest.spaces, this.chosen.settings)
        : rest.spaces.den === 1
          ? rest.spaces
          : undefined
      if (this.byTempus && tempora === undefined) return undefined
      if (tempora !== undefined) return restOfTempora(tempora, full, modus)
      if (rest.spaces.den === 3 && modus > 0)
        return {
          level: SEMIBREVIS,
          ticks: Math.round((full[BREVIS]! * rest.spaces.num) / 3),
          known: true,
          short: false,
        }
    }
    const level = LEVEL_NUMBER[rest.level ?? "brevis"]!
    return { level, ticks: full[level]!, known: false, short: false }
  }

  private fix(figure: DraftFigure, sign: Note | Rest, level: number): void {
    const decided = this.options.decisions?.get(sign.id)
    if (decided) {
      figure.fixed = (UNIT * decided[0]) / decided[1]
      figure.fixedBy = "decision"
      return
    }
    if (sign.given === undefined || this.options.ignoreGiven) return
    const ticks = givenTicks(sign, level, this.current.mensuration, this.byTempus, figure.full)
    if (ticks === undefined) return
    figure.fixed = ticks
    figure.fixedBy = "given"
  }

  /** A shape that the page defines: so many of it last so many minims. */
  private shape(figure: DraftFigure, note: Note): void {
    if (note.shape === undefined || !this.rules.has("local-shape")) return
    const defined = this.options.shapes?.find(shape => shape.name === note.shape)
    if (defined?.minims === undefined) return
    figure.localShape = true
    figure.full = (UNIT * defined.minims.num) / (defined.minims.den * (defined.count ?? 1))
  }

  private takeDot(dot: Extract<Sign, { kind: "dot" }>): void {
    const figure = this.last
    if (figure === undefined || figure.dot !== undefined) return this.enter(dot)
    if (this.byTempus) {
      if (this.rules.has("punctus-divisionis")) this.markDot(figure, dot)
    } else {
      figure.dot = dot.id
      if (dot.given !== undefined && !this.options.ignoreGiven) figure.dotGiven = dot.given
    }
    this.enter(dot)
  }

  /** Between rhombs a dot parts groups only; where breves are cut into many, every dot does no more than that. */
  private markDot(figure: DraftFigure, dot: Extract<Sign, { kind: "dot" }>): void {
    const partsBrevesOnly = this.chosen.settings["breveDivision"] !== "two-or-three"
    if (!partsBrevesOnly && figure.level < SEMIBREVIS) {
      figure.dot = dot.id
      return
    }
    figure.stroke = dot.id
    figure.strokeGroup = true
    figure.strokeIsDot = true
  }

  private takeStroke(stroke: Extract<Sign, { kind: "stroke" }>): void {
    if (stroke.form === "finis-punctorum" && this.rules.has("finis-punctorum")) {
      this.enter(stroke, -1, "finis-punctorum")
      return this.open(undefined, true)
    }
    const divides = stroke.form === "divisio-modi" || stroke.form === "signum-perfectionis"
    const parts = stroke.form === "signum-rotundum"
    const figure = this.last
    if (
      (divides || parts) &&
      figure !== undefined &&
      figure.stroke === undefined &&
      this.rules.has("punctus-divisionis")
    ) {
      figure.stroke = stroke.id
      if (parts || figure.level >= SEMIBREVIS) figure.strokeGroup = true
      figure.strokeIsRound = parts
    }
    this.enter(stroke)
  }

  /** Where coloration means another mensuration (option colourMap), the coloured notes are a stretch of their own. */
  private followColour(note: Note): void {
    const map = this.chosen.settings["colourMap"]
    if (map === undefined || map === "lose-a-third") return
    const coloured = note.coloration !== "none"
    if (coloured === this.coloured) return
    this.coloured = coloured
    const level = map === "perfect-modus" ? "modusMinor" : map === "perfect-tempus" ? "tempus" : "prolatio"
    const was = this.measuring[level]
    this.measuring = { ...this.measuring, [level]: was === 3 ? 2 : 3 }
    this.open(undefined, true)
  }

  /**
   * A stroke after a rhomb parts groups if another rhomb follows; before a breve or long it closes a perfection. A dot
   * beside a rhomb is first of all the end of a breve.
   */
  private closeStrokes(): void {
    const { figures } = this.current
    const dotsPartOnly = this.chosen.settings["breveDivision"] !== "two-or-three"
    figures.forEach((f, i) => {
      const next = figures[i + 1]
      if (next === undefined) return
      const rhomb = f.level >= SEMIBREVIS
      const rhombFollows = next.level >= SEMIBREVIS
      if (f.dot !== undefined && rhombFollows && !rhomb) softenDot(f)
      else if (rhomb && !rhombFollows && f.strokeGroup && !f.strokeIsRound) {
        if (!f.strokeIsDot) f.strokeGroup = false
        else if (!dotsPartOnly) f.softWall = true
      }
    })
  }

  /** Works out what coloration does in the stretch that ends here. */
  private closeColour(): void {
    if (this.byTempus) this.closeStrokes()
    const { figures, mensuration } = this.current
    const mapped = (this.chosen.settings["colourMap"] ?? "lose-a-third") !== "lose-a-third"
    if (mapped) for (const f of figures) f.coloured = false
    if (this.byTempus || !figures.some(f => f.coloured)) return
    const inked: Inked[] = figures.map(f => ({
      level: f.level,
      rest: f.rest,
      full: f.full,
      coloration: !f.coloured ? "none" : f.note?.coloration.startsWith("half") ? "half" : "full",
      dotted: f.dot !== undefined,
    }))
    colourEffects(inked, mensuration, this.chosen.settings, this.rules).forEach((effect, i) => {
      if (effect === undefined) return
      figures[i]!.colouredTicks = effect.ticks
      figures[i]!.colourRule = effect.rule
    })
  }
}

function softenDot(f: DraftFigure): void {
  if (f.level <= LONGA) return
  f.stroke = f.dot
  f.dot = undefined
  f.strokeGroup = f.strokeIsDot = f.softWall = true
}

function restOfTempora(
  tempora: Rational,
  full: readonly number[],
  modus: number,
): { level: number; ticks: number; known: boolean; short: boolean } {
  const ticks = (full[BREVIS]! * tempora.num) / tempora.den
  if (tempora.num < tempora.den) return { level: SEMIBREVIS, ticks, known: true, short: false }
  if (tempora.num === tempora.den) return { level: BREVIS, ticks, known: true, short: false }
  return { level: LONGA, ticks, known: true, short: modus === 3 && tempora.num === 2 * tempora.den }
}

/** Tempora of a rest that covers so many spaces (option restSystem); undefined: the end of a section, unmeasured. */
function restTempora(spaces: Rational, settings: Readonly<Record<string, string>>): Rational | undefined {
  const system = settings["restSystem"] ?? "acm-1280"
  const half = spaces.num === 1 && spaces.den === 2
  const long = spaces.num / spaces.den >= 4
  if (system === "tractatus-c1275") {
    if (half) return ratio(1, 3)
    if (long) return ratio(3)
    return spaces.num === spaces.den ? ratio(2, 3) : spaces.den === 1 ? minus(spaces, ONE) : spaces
  }
  if (long) return system === "regulae-c1275" ? ratio(3) : undefined
  const third = settings["halfSpaceRest"] === "minor" || system === "dmm-1250" || system === "dmd-c1275"
  if (half) return third ? ratio(1, 3) : ratio(2, 3)
  return spaces
}

/** Ticks of an explicit duration: MEI's dur.quality, then num/numbase on the written value. */
function givenTicks(
  sign: Note | Rest,
  level: number,
  mensuration: Mensuration,
  byTempus: boolean,
  full: number,
): number | undefined {
  const given = sign.given!
  const below = mensuration.full[level + 1] ?? full / 2
  const unit = byTempus && level === SEMIBREVIS ? UNIT / 3 : below
  let ticks = sign.kind === "rest" ? full : mensuration.full[level]!
  if (given.quality === "perfecta") ticks = byTempus && level === SEMIBREVIS ? ticks : 3 * unit
  else if (given.quality === "imperfecta") ticks = 2 * below
  else if (given.quality === "altera") ticks = 2 * mensuration.full[level]!
  else if (given.quality === "minor") ticks = byTempus ? UNIT / 3 : ticks
  else if (given.quality === "maior") ticks = byTempus ? (2 * UNIT) / 3 : 2 * ticks
  else if (given.num === undefined || given.numbase === undefined) return undefined
  if (given.num && given.numbase) ticks = (ticks * given.numbase) / given.num
  return ticks
}

const wholes = new Map<number, Rational>()
/** Fractions of one unit by ticks: few different ones occur, and making one costs a division loop. */
function unscaled(ticks: number): Rational {
  let known = wholes.get(ticks)
  if (known === undefined) {
    known = Number.isInteger(ticks) ? ratio(ticks, UNIT) : fraction(ticks)
    if (wholes.size < 4096) wholes.set(ticks, known)
  }
  return known
}

/** The exact duration of so many ticks under a ratio; ticks may be a fraction only by a rounding far below one tick. */
export function durationOf(ticks: number, by: Rational): Rational {
  return by.num === by.den ? unscaled(ticks) : over(unscaled(ticks), by)
}

/** For values no whole number of ticks gives (a given 11 in the time of 13): the nearest fraction with a small denominator. */
function fraction(ticks: number): Rational {
  const value = ticks / UNIT
  for (let den = 1; den <= 4096; den++) {
    const num = Math.round(value * den)
    if (Math.abs(num / den - value) < 1e-9) return ratio(num, den)
  }
  return times(ratio(Math.round(ticks)), ratio(1, UNIT))
}
