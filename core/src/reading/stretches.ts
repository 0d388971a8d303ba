/**
 * A voice cut into stretches under one mensuration, its notes and rests as figures for the rules, and every sign that
 * will have an entry in the reading, in page order.
 */
import type { Rational, SignId } from "../base/index.js"
import type { FlatSign, Ligature, Sign } from "../page/index.js"
import { Cutter } from "./cutter.js"
import type { DraftFigure } from "./draft-figure.js"
import type { InForce, Met } from "./in-force.js"
import type { Misfit } from "./rulings.js"
import type { Chosen, ReadOptions } from "./settings.js"

export { FINIS, LACUNA } from "./taken-for.js"

/** Notes and rests under one mensuration. */
export interface Stretch extends InForce {
  readonly sign?: SignId
  readonly figures: DraftFigure[]
  /** Begins after a finis punctorum or a change of colour: not after a sign. */
  readonly quiet: boolean
  /** All that had been met when it began, and so throughout it. */
  readonly met: Met
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
  /** A gap in the source, and how long it lasts, if that is known. */
  readonly lasts?: Rational
}

/** A voice cut up: its stretches, and all its signs in page order. */
export interface Cut {
  readonly stretches: Stretch[]
  readonly entries: Entry[]
  /** Decisions that cannot be. */
  readonly misfits: readonly Misfit[]
  /** Decisions bear on signs of the voice: its figures are not drawn up from the page alone. */
  readonly ruled: boolean
  /** It may have a finis punctorum: it has, or had before an edit. */
  readonly finis: boolean
  /** What the whole voice says of each figure: whether it has words, its inscriptions. */
  readonly wholeVoice: string
}

/** Cuts the voice; `flat` are its signs with those of ligatures one by one. */
export function cutVoice(flat: readonly FlatSign[], chosen: Chosen, options: ReadOptions): Cut {
  return new Cutter(flat, chosen, options).run()
}
