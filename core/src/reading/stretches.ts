/**
 * A voice cut into stretches under one mensuration, its notes and rests as figures for the rules, and every sign that
 * will have an entry in the reading, in page order.
 */
import { ONE, type Rational, type SignId } from "../base/index.js"
import type { FlatSign, Ligature, Note, Rest, Sign, Voice } from "../page/index.js"
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
import { settleMarks } from "./marks.js"
import { givenTicks, LEVEL_NUMBER, measureRest } from "./measured.js"
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
    const measured = measureRest(rest, this.current.mensuration, this.byTempus, this.chosen.settings)
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

  /** Works out what coloration does in the stretch that ends here. */
  private closeColour(): void {
    const { figures, mensuration } = this.current
    if (this.byTempus) settleMarks(figures, this.chosen.settings["breveDivision"] !== "two-or-three")
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
