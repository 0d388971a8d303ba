/** Cuts a voice sign by sign, from the first to the last. */
import type { SignId } from "../base/index.js"
import type { FlatSign, Ligature, Note, Rest, Sign } from "../page/index.js"
import { UNIT } from "../practices/index.js"
import { applyColour, isMapped, takesThird } from "./coloured.js"
import { draftFigure, drawAs, type DraftFigure } from "./draft-figure.js"
import { Mensurations } from "./in-force.js"
import { breaksOff, lastNote } from "./last-note.js"
import { LigatureReader } from "./ligature-reader.js"
import { layDot, layStroke, settleMarks } from "./marks.js"
import { givenTicks, measureRest } from "./measured.js"
import { RuledSigns } from "./ruled-signs.js"
import type { Chosen, ReadOptions } from "./settings.js"
import type { Cut, Entry, Stretch } from "./stretches.js"
import { FINIS, LACUNA } from "./taken-for.js"
import { traitsOf } from "./traits.js"

type Of<Kind extends Sign["kind"]> = Extract<Sign, { kind: Kind }>

export class Cutter {
  protected stretches: Stretch[] = []
  protected entries: Entry[] = []
  private readonly rules: ReadonlySet<string>
  protected current!: Stretch
  protected last: DraftFigure | undefined
  protected readonly ligatures: LigatureReader
  private readonly texted: boolean
  protected readonly byTempus: boolean
  /** Where breves are cut into many, dots part breves and do no more than that. */
  private readonly dotsPartOnly: boolean
  private readonly ruled: RuledSigns
  protected readonly mensurations: Mensurations
  /** A finis punctorum was met, now or before an edit. */
  protected finis = false
  /** First figure of the stretch that is drawn up, and not taken over from an earlier cut. */
  protected fresh = 0

  constructor(
    protected readonly flat: readonly FlatSign[],
    private readonly chosen: Chosen,
    private readonly options: ReadOptions,
  ) {
    this.rules = new Set(chosen.practice.rules.map(rule => rule.id))
    this.byTempus = chosen.practice.unit === "tempus"
    this.dotsPartOnly = chosen.settings["breveDivision"] !== "two-or-three"
    this.ligatures = new LigatureReader(chosen)
    this.mensurations = new Mensurations(flat, chosen)
    this.texted = traitsOf(flat).texted
    this.ruled = new RuledSigns(options)
    this.open(undefined, true)
  }

  run(): Cut {
    this.takeFrom(0)
    const { stretches, entries, isRuled: ruled, wholeVoice, finis } = this
    return { stretches, entries, misfits: this.ruled.misfits(), ruled, finis, wholeVoice }
  }

  protected get isRuled(): boolean {
    return this.options.decisions !== undefined || this.ruled.bearsOn(this.flat)
  }

  protected get wholeVoice(): string {
    return JSON.stringify([this.texted, this.mensurations.inscriptions, this.mensurations.perfectFrom])
  }

  /** Takes up the signs from one on, to the last. */
  protected takeFrom(first: number): void {
    for (let i = first; i < this.flat.length; i++) this.take(this.flat[i]!, i)
    this.closeStretch()
    if (this.stretches.length > 1 && this.current.figures.length === 0 && this.current.quiet) this.stretches.pop()
    this.markFinal()
  }

  protected markFinal(): void {
    const final = breaksOff(this.entries) ? undefined : lastNote(this.stretches)
    if (final) final.final = true
  }

  private open(sign: SignId | undefined, quiet: boolean): void {
    const stretch: Stretch = { ...this.mensurations.now(), sign, figures: [], quiet, met: this.mensurations.met }
    if (this.current !== undefined && this.current.figures.length === 0)
      this.stretches[this.stretches.length - 1] = stretch
    else {
      if (this.current !== undefined) this.closeStretch()
      this.stretches.push(stretch)
    }
    this.current = stretch
    this.last = undefined
    this.fresh = 0
  }

  protected take(flat: FlatSign, at: number): void {
    const { sign } = flat
    this.ruled.meet(sign.id)
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
        return this.takeMensuration(sign)
      case "proportion":
        return this.takeProportion(sign)
      case "mark":
        return sign.of === "canon" && this.mensurations.meetInscription(sign) ? this.open(sign.id, false) : undefined
      case "other":
        return sign.name === "gap" ? this.takeGap(sign) : undefined
      default:
        return
    }
  }

  private takeMensuration(sign: Of<"mensuration">): void {
    if (sign.initial !== true) this.takeModusRests()
    this.mensurations.meetSign(sign)
    this.open(sign.id, false)
    this.enter(sign)
  }

  private takeProportion(sign: Of<"proportion">): void {
    this.mensurations.meetProportion(sign)
    this.open(sign.id, false)
    this.enter(sign)
  }

  /** Something is lost here: counting begins anew after it. */
  private takeGap(gap: Of<"other">): void {
    this.enter(gap, -1, LACUNA)
    const lasts = this.options.gaps?.get(gap.id)
    if (lasts !== undefined) this.entries[this.entries.length - 1] = { ...this.entries.at(-1)!, lasts }
    this.open(undefined, true)
  }

  /** Longa rests before the first sign of tempus are signs of modus and are not counted. */
  private takeModusRests(): void {
    if (this.stretches.length > 1 || !this.mensurations.meetModusRests(this.current.figures)) return
    this.entries.forEach((entry, i) => {
      if (entry.figure >= 0) this.entries[i] = { ...entry, figure: -1, takenFor: "signum-modi" }
    })
    this.current.figures.length = 0
  }

  private enter(sign: Exclude<Sign, Ligature>, figure = -1, takenFor?: string): void {
    if (takenFor === FINIS) this.finis = true
    this.entries.push({
      sign,
      stretch: this.stretches.length - 1,
      figure,
      after: figure < 0 ? (this.last?.index ?? -1) : -1,
      takenFor,
    })
  }

  private takeNote(flat: FlatSign, note: Note, at: number): void {
    this.ligatures.enter(flat.ligature)
    const level = this.ligatures.levelOf(note)
    if (this.mensurations.meetFound(note.id)) this.open(undefined, false)
    if (this.mensurations.meetColour(note)) this.open(undefined, true)
    const figure = this.figure(note.id, level, false, this.current.mensuration.full[level]!, at)
    drawAs(figure, note, flat.ligature !== undefined)
    this.ligatures.mark(figure, flat)
    this.fix(figure, note, level)
    this.shape(figure, note)
    this.push(figure, note)
  }

  private figure(id: SignId, level: number, rest: boolean, full: number, flat: number): DraftFigure {
    const figure = draftFigure(id, this.current.figures.length, level, full, flat)
    figure.rest = rest
    figure.texted = this.texted
    return figure
  }

  private push(figure: DraftFigure, sign: Note | Rest): void {
    this.current.figures.push(figure)
    this.last = figure
    this.enter(sign, figure.index)
  }

  private takeRest(rest: Rest, at: number): void {
    this.ligatures.enter(undefined)
    if (this.mensurations.meetFound(rest.id)) this.open(undefined, false)
    const measured = measureRest(rest, this.current.mensuration, this.byTempus, this.chosen.settings)
    if (measured === undefined) {
      this.enter(rest, -1, FINIS)
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
    if (this.ruled.lay(figure, sign, this.current.measuring.ratio)) return
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

  private takeDot(dot: Of<"dot">): void {
    const figure = this.last
    if (figure === undefined || figure.dot !== undefined) return this.enter(dot)
    if (this.byTempus) {
      if (this.rules.has("punctus-divisionis")) layDot(figure, dot.id)
    } else {
      figure.dot = dot.id
      if (dot.given !== undefined && !this.options.ignoreGiven) figure.dotGiven = dot.given
    }
    this.ruled.layMark(figure, dot.id, this.isPerfect(figure))
    this.enter(dot)
  }

  private isPerfect({ level }: DraftFigure): boolean {
    return this.current.mensuration.divisions[level] === 3
  }

  private takeStroke(stroke: Of<"stroke">): void {
    if (stroke.form === "finis-punctorum" && this.rules.has("finis-punctorum")) {
      this.enter(stroke, -1, FINIS)
      return this.open(undefined, true)
    }
    if (this.last !== undefined && this.rules.has("punctus-divisionis")) {
      layStroke(this.last, stroke)
      this.ruled.layMark(this.last, stroke.id, this.isPerfect(this.last))
    }
    this.enter(stroke)
  }

  /** What can be said only when the whole stretch is known of the figures that are drawn up, those before `end`. */
  protected closeStretch(end = this.current.figures.length): void {
    const { figures, mensuration } = this.current
    const { settings } = this.chosen
    const fresh = { from: this.fresh, to: end }
    if (this.byTempus) settleMarks(figures, this.dotsPartOnly, fresh)
    const isTaken = !this.current.met.coloured && takesThird(this.current.measuring, settings)
    if (isMapped(settings) && !isTaken) for (let i = fresh.from; i < end; i++) figures[i]!.coloured = false
    if (!this.byTempus) applyColour(figures, fresh, mensuration, settings, this.rules, index => this.recoloured(index))
  }

  /** A figure that was taken over has become another by the colour around it. */
  protected recoloured(_index: number): void {}
}
