/** The run of breves at the modus along a path, and the price of how it was opened, which is known when it ends. */
import {
  groupPreference,
  LONGA,
  NOBODY,
  SHORTENED,
  TEMPUS_LEVEL,
  type GroupRule,
  type Preference,
} from "../practices/index.js"
import type { LatticeInput, State } from "./lattice-parts.js"
import type { Proposal } from "./proposal.js"
import type { DraftFigure } from "./draft-figure.js"

/** One breve before a two-breve rest: joins the rest, unless that leaves one over after it. Counted habit (theory: observed). */
const JOINS_FOLLOWING: Preference = { whole: 1.2, short: 0 }
const JOINS_REST: Preference = { whole: 0, short: 0.6 }
/** The breve left over shortens a long before its like, which is dear; so much of that price remains. */
const LEFT_OVER = 0.5
/** A price above this (five to two) says that the usual way of counting was overruled. */
const OVERRULING = 0.9

export class RunWeights {
  private readonly rule: GroupRule
  private readonly known = new Map<number, Preference>()
  /** The run at the modus after the figure that was followed last, as in a state; and whether its count was overruled there. */
  opening = 0
  opener = -1
  counted = 0
  overruled = false

  constructor(private readonly input: LatticeInput) {
    this.rule = input.settings["groupRule.modus"] as GroupRule
  }

  /** The price of the state's run, if the figure `i` ends it: a long, its rest, or anything larger. */
  closing(state: State, i: number): number {
    const { figures } = this.input
    if (state.opening === NOBODY || figures[i]!.level > LONGA) return 0
    const before = figures[i - 1]
    const alterable = before !== undefined && isBreve(before) && !before.coloured && this.letsAlter(figures[i]!)
    return this.price(state.opening, state.opener, state.counted, alterable, i)
  }

  /** The price of a run that the end of the stretch cuts off. */
  atEnd({ opening, opener, counted }: State): number {
    return opening === NOBODY ? 0 : this.price(opening, opener, counted, false, this.input.figures.length)
  }

  /** Whether a run at this price was not counted the usual way. */
  overrules(price: number): boolean {
    return price > OVERRULING
  }

  /**
   * What a figure makes of the run it comes from: it ends at a wall, begins with a free long, or counts on. Gives what
   * the end of the run costs; the run that goes on is left in `opening`, `opener` and `counted`.
   */
  follow({ wall, opening, counted }: Proposal, figure: DraftFigure, from: State): number {
    this.overruled = false
    const goesOn = figure.level > LONGA && from.opening !== NOBODY
    if (!wall && opening !== NOBODY) {
      this.opening = opening
      this.opener = figure.index
      this.counted = 0
      return 0
    }
    if (goesOn && !wall) {
      this.opening = from.opening
      this.opener = from.opener
      this.counted = from.counted + counted
      return 0
    }
    this.opening = NOBODY
    this.opener = -1
    this.counted = 0
    return goesOn ? this.priceAtWall(figure, from, from.counted + counted) : 0
  }

  private priceAtWall(figure: DraftFigure, { opening, opener }: State, counted: number): number {
    const alterable = isBreve(figure) && this.input.settings["alterBeforeWall"] === "true"
    const price = this.price(opening, opener, counted, alterable, figure.index)
    this.overruled = this.overrules(price)
    return price
  }

  private letsAlter(larger: DraftFigure): boolean {
    if (larger.shortLongRest) return false
    const { practice, settings } = this.input
    return larger.level === LONGA || practice.unit === "tempus" || settings["alterBeforeRemoteLarger"] !== "false"
  }

  private price(opening: number, opener: number, counted: number, alterable: boolean, until: number): number {
    const preference = this.preference(opener, counted, alterable, until)
    if (opening !== SHORTENED) return preference.whole
    const discount = this.leavesOneOver(counted, until) ? this.input.practice.weights.likeModus - LEFT_OVER : 0
    return preference.short - discount
  }

  /**
   * Five, eight, eleven: the older counting shortens the first long and, by the last breve, the long that follows, even
   * before another long (Ars cantus mensurabilis, c. 1280, V: the closing long is imperfected by what is left over).
   */
  private leavesOneOver(counted: number, until: number): boolean {
    if (this.input.practice.unit !== "tempus" || this.rule !== "first-imperfect") return false
    const { figures, mensuration } = this.input
    const units = counted / mensuration.full[TEMPUS_LEVEL]!
    const like = figures[until + 1]
    return units >= 5 && units % 3 === 2 && figures[until]?.level === LONGA && like !== undefined && like.level <= LONGA
  }

  private preference(opener: number, counted: number, alterable: boolean, until: number): Preference {
    const { figures, mensuration } = this.input
    const units = counted / mensuration.full[TEMPUS_LEVEL]!
    if (units === 1 && figures[until]?.shortLongRest === true) {
      const after = figures[until]!.runs[LONGA]?.units ?? 0
      return Math.round(after) % 3 === 1 ? JOINS_FOLLOWING : JOINS_REST
    }
    const startsWithRest = figures[opener]?.runs[LONGA]?.startsWithRest ?? false
    const key = counted * 4 + (alterable ? 1 : 0) + (startsWithRest ? 2 : 0)
    let found = this.known.get(key)
    if (found === undefined)
      this.known.set(key, (found = groupPreference(this.rule, LONGA, { units, alterable, startsWithRest })))
    return found
  }
}

const isBreve = (f: DraftFigure): boolean => f.level === TEMPUS_LEVEL && !f.rest
