/** A voice as it was cut before an edit: from where on it can be cut again, and from where on it is as it was. */
import type { FlatSign } from "../page/index.js"
import { isMoved, movedFigure, type DraftFigure, type Move } from "./draft-figure.js"
import type { Ends } from "./ends.js"
import { SEMIBREVIS } from "../practices/index.js"
import type { Cut, Entry, Stretch } from "./stretches.js"

/** A voice's signs, how it was cut, and how many signs it has in common with the voice after the edit. */
export interface CutBefore {
  readonly flat: readonly FlatSign[]
  readonly cut: Cut
  readonly ends: Ends
}

/** A figure by its place: among the flat signs, the entries, the stretches, and the figures of its stretch. */
export interface FigurePlace {
  readonly flat: number
  readonly entry: number
  readonly stretch: number
  readonly figure: number
}

export class OldCut {
  readonly entries: readonly Entry[]
  readonly stretches: readonly Stretch[]
  private readonly head: number
  /** Where the end that is as before begins among the flat signs, and by how much it moved. */
  readonly tail: number
  readonly moved: number
  // the entry before to be looked at next
  private at = 0

  constructor({ flat, cut, ends }: CutBefore, length: number) {
    this.entries = cut.entries
    this.stretches = cut.stretches
    this.head = ends.head
    this.tail = length - ends.tail
    this.moved = length - flat.length
  }

  /**
   * The last figure that stood before the change, from which on the voice can be cut again: not the first of its
   * stretch, none of a ligature, and none after the last note, which is told from the others. `atLarger`: no semibreve, since
   * what the dot after a long means depends on those that follow.
   */
  resume(atLarger: boolean): FigurePlace | undefined {
    let final = this.entries.length
    while (final > 0 && !this.isFinal(final - 1)) final--
    for (let at = final - 1; at >= 0; at--) {
      const place = this.placeOf(at)
      if (place === undefined || place.flat >= this.head || place.figure === 0) continue
      const { ligature, level } = this.figure(place)
      if (ligature < 0 && (!atLarger || level < SEMIBREVIS)) return place
    }
    return undefined
  }

  /** The figure that the sign at `flat` was before, if all that follows can be cut as it was then. */
  joint(flat: number): FigurePlace | undefined {
    const was = flat - this.moved
    for (; this.at < this.entries.length; this.at++) {
      const place = this.placeOf(this.at)
      if (place === undefined || place.flat < was) continue
      return place.flat === was && place.figure > 0 && this.leadsOn(place) ? place : undefined
    }
    return undefined
  }

  /** A note follows in its stretch: the last note is behind it, and its stretch more than rests that tell of the modus. */
  private leadsOn(place: FigurePlace): boolean {
    const { figures } = this.stretches[place.stretch]!
    if (figures[place.figure]!.ligature >= 0) return false
    for (let i = place.figure; i < figures.length; i++) if (!figures[i]!.rest) return true
    return false
  }

  /** The number of the last ligature before the figure; -1 where there is none. */
  ligatureBefore({ stretch, figure }: FigurePlace): number {
    for (let s = stretch; s >= 0; s--) {
      const { figures } = this.stretches[s]!
      for (let i = (s === stretch ? figure : figures.length) - 1; i >= 0; i--)
        if (figures[i]!.ligature >= 0) return figures[i]!.ligature
    }
    return -1
  }

  private placeOf(entry: number): FigurePlace | undefined {
    const { stretch, figure } = this.entries[entry]!
    if (figure < 0) return undefined
    return { flat: this.stretches[stretch]!.figures[figure]!.flat, entry, stretch, figure }
  }

  private isFinal(entry: number): boolean {
    const { stretch, figure } = this.entries[entry]!
    return figure >= 0 && this.stretches[stretch]!.figures[figure]!.final
  }

  private figure({ stretch, figure }: FigurePlace): DraftFigure {
    return this.stretches[stretch]!.figures[figure]!
  }
}

/** The stretch with its figures at their new places; the same where they did not move. */
export function movedStretch(stretch: Stretch, by: Move): Stretch {
  if (!stretch.figures.some(figure => isMoved(figure, by))) return stretch
  return { ...stretch, figures: stretch.figures.map(figure => movedFigure(figure, by)) }
}

/** The entry so many stretches further on; in the stretch where something changed, so many figures. */
export function movedEntry(entry: Entry, stretches: number, figures: number): Entry {
  if (stretches === 0 && figures === 0) return entry
  const moved = (at: number): number => (at < 0 ? at : at + figures)
  return { ...entry, stretch: entry.stretch + stretches, figure: moved(entry.figure), after: moved(entry.after) }
}
