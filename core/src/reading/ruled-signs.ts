/** Lays an editor's decisions on the figures of a voice while they are drawn up, and tells which cannot be. */
import { toText, type Rational, type SignId } from "../base/index.js"
import type { FlatSign, Note, Rest } from "../page/index.js"
import { UNIT } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import { rulingsOf, ticksUnder, type Misfit, type Rulings, type SignRuling } from "./rulings.js"
import type { ReadOptions } from "./settings.js"

export class RuledSigns {
  private readonly rulings: Rulings | undefined
  private readonly wanted: ReadOptions["decisions"]
  /** Signs of the voice that decisions are on, and those of them that took one up. */
  private readonly met = new Set<SignId>()
  private readonly obeyed = new Set<SignId>()
  private readonly own: Misfit[] = []

  constructor(options: ReadOptions) {
    this.rulings = options.pageDecisions && rulingsOf(options.pageDecisions)
    this.wanted = options.decisions
  }

  /** Whether there are decisions on any of the signs. */
  bearsOn(flat: readonly FlatSign[]): boolean {
    const { rulings } = this
    return rulings !== undefined && rulings.bySign.size > 0 && flat.some(({ sign }) => rulings.bySign.has(sign.id))
  }

  /** Told of every sign of the voice. */
  meet(sign: SignId): void {
    if (this.rulings?.bySign.has(sign)) this.met.add(sign)
  }

  /** What was decided for the figure; true where its duration is fixed. `by` is the proportion it stands under. */
  lay(figure: DraftFigure, { id }: Note | Rest, by: Rational): boolean {
    const ruling = this.rulings?.bySign.get(id)
    const wanted = this.wanted?.get(id)
    if (wanted !== undefined) figure.fixed = (UNIT * wanted[0] * by.num) / (wanted[1] * by.den)
    else if (ruling !== undefined) this.obey(figure, id, ruling, by)
    if (figure.fixed === undefined) return false
    figure.fixedBy = "decision"
    return true
  }

  private obey(figure: DraftFigure, sign: SignId, ruling: SignRuling, by: Rational): void {
    const { fixed, not } = ruling
    const ticksOf = (duration: Rational): number | undefined => {
      const ticks = ticksUnder(duration, by)
      if (ticks === undefined) this.own.push({ sign, by: ruling.by, why: "fine", what: toText(duration) })
      return ticks
    }
    if (fixed !== undefined || not.length > 0) this.obeyed.add(sign)
    if (fixed !== undefined) figure.fixed = ticksOf(fixed)
    if (figure.fixed === undefined && not.length > 0)
      figure.ruling = { not: not.map(ticksOf).filter(one => one !== undefined) }
  }

  /** What was decided of a dot or stroke that stands after the figure; `perfect`: its level divides in three. */
  layMark(figure: DraftFigure, mark: SignId, perfect: boolean): void {
    const dot = this.rulings?.bySign.get(mark)?.dot
    if (dot === undefined || (figure.dot !== mark && figure.stroke !== mark)) return
    this.obeyed.add(mark)
    if (figure.stroke === mark) figure.ruling = { ...figure.ruling, stroke: dot }
    else {
      figure.ruling = { ...figure.ruling, dot }
      // an imperfect note cannot be kept perfect: that is told of, and the dot is what it would be without the decision
      if (dot !== "perfection" || perfect)
        figure.dotGiven = dot === "addition" ? "aug" : dot === "perfection" ? "perf" : "div"
    }
  }

  /** Decisions on signs of the voice that cannot be, or that no such sign can take up. */
  misfits(): Misfit[] {
    if (this.rulings === undefined) return []
    const { bySign, misfits } = this.rulings
    const idle = [...this.met].flatMap((sign): Misfit[] => {
      const { fixed, not, dot, by } = bySign.get(sign)!
      const lasting = fixed !== undefined || not.length > 0
      const taken = this.obeyed.has(sign)
      if (lasting && dot !== undefined) return [{ sign, by, why: "mixed" }]
      if (taken || (!lasting && dot === undefined)) return []
      return [{ sign, by, why: lasting ? "lengthless" : "markless" }]
    })
    return [...misfits.filter(({ sign }) => this.met.has(sign)), ...this.own, ...idle]
  }
}
