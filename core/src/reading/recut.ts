/** A voice cut again after an edit: what stands far enough from the change is taken over as it was cut before. */
import type { FlatSign } from "../page/index.js"
import { Cutter } from "./cutter.js"
import { copied, movedFigure, type Move } from "./draft-figure.js"
import { sameMet } from "./in-force.js"
import { breaksOff } from "./last-note.js"
import { movedEntry, movedStretch, OldCut, type CutBefore, type FigurePlace } from "./old-cut.js"
import type { Chosen, ReadOptions } from "./settings.js"
import { cutVoice, type Cut } from "./stretches.js"

/** How many figures of a stretch stand as they stood at the beginning and at the end of one of the stretches before. */
export interface Kept {
  /** That stretch, by its number. */
  readonly of: number
  readonly head: number
  readonly tail: number
}

/** The same for a whole voice: stretch by stretch, and among its entries. */
export interface KeptCut {
  readonly stretches: readonly (Kept | undefined)[]
  readonly head: number
  readonly tail: number
}

export interface Recut {
  readonly cut: Cut
  readonly kept?: KeptCut
}

/** Cuts the voice; `before` was cut by the same practice and options, and has these signs in common with it. */
export function cutAgain(
  flat: readonly FlatSign[],
  chosen: Chosen,
  options: ReadOptions,
  before: CutBefore | undefined,
): Recut {
  if (before === undefined || before.cut.ruled) return { cut: cutVoice(flat, chosen, options) }
  return new Recutter(flat, chosen, options, before).runAgain()
}

/** Where the voice is as it was before again: how much its stretch and its entries moved, and what is the same there. */
interface Joined {
  readonly stretch: number
  readonly of: number
  tail: number
  readonly entries: number
}

class Recutter extends Cutter {
  private readonly old: OldCut
  private begun: FigurePlace | undefined
  private joined: Joined | undefined
  /** So many figures are as they were in the stretch where it was begun again. */
  private head = 0
  /** The last note, where it has been found anew. */
  private final: { readonly stretch: number; readonly figure: number } | undefined

  constructor(
    flat: readonly FlatSign[],
    chosen: Chosen,
    options: ReadOptions,
    private readonly before: CutBefore,
  ) {
    super(flat, chosen, options)
    this.old = new OldCut(before, flat.length)
    this.finis = before.cut.finis
  }

  runAgain(): Recut {
    const cut = this.run()
    return this.begun === undefined && this.joined === undefined ? { cut } : { cut, kept: this.kept(cut) }
  }

  protected override takeFrom(first: number): void {
    if (this.isRuled || this.wholeVoice !== this.before.cut.wholeVoice) return super.takeFrom(first)
    this.begun = this.old.resume(this.byTempus)
    if (this.begun !== undefined) this.goOnFrom(this.begun)
    for (let i = this.begun?.flat ?? first; i < this.flat.length; i++) {
      const joint = i < this.old.tail ? undefined : this.jointAt(i)
      if (joint !== undefined) return this.join(joint)
      this.take(this.flat[i]!, i)
    }
    super.takeFrom(this.flat.length)
  }

  private goOnFrom(place: FigurePlace): void {
    const { stretches, entries } = this.old
    const stretch = stretches[place.stretch]!
    this.current = { ...stretch, figures: stretch.figures.slice(0, place.figure) }
    this.stretches = [...stretches.slice(0, place.stretch), this.current]
    this.entries = entries.slice(0, place.entry)
    this.last = this.current.figures.at(-1)
    this.mensurations.goOnFrom(stretch.met)
    this.ligatures.number = this.old.ligatureBefore(place)
    this.fresh = this.head = place.figure
  }

  /** The place before of the sign at `flat`, where all that has been met is what had been met then. */
  private jointAt(flat: number): FigurePlace | undefined {
    const { sign, ligature } = this.flat[flat]!
    if ((sign.kind !== "note" && sign.kind !== "rest") || ligature !== undefined) return undefined
    if (this.current.figures.length === 0) return undefined
    const joint = this.old.joint(flat)
    return joint && sameMet(this.current.met, this.old.stretches[joint.stretch]!.met) ? joint : undefined
  }

  private join(place: FigurePlace): void {
    const { old, current } = this
    const { figures } = old.stretches[place.stretch]!
    const end = current.figures.length
    const by: Move = {
      index: end - place.figure,
      flat: old.moved,
      ligature: this.ligatures.number - old.ligatureBefore(place),
    }
    const stretch = this.stretches.length - 1
    const tail = figures.length - place.figure
    this.joined = { stretch, of: place.stretch, tail, entries: old.entries.length - place.entry }
    for (let i = place.figure; i < figures.length; i++) current.figures.push(movedFigure(figures[i]!, by))
    this.closeStretch(end)
    for (const later of old.stretches.slice(place.stretch + 1))
      this.stretches.push(movedStretch(later, { ...by, index: 0 }))
    for (let i = place.entry; i < old.entries.length; i++) {
      const entry = old.entries[i]!
      const moved = entry.stretch === place.stretch ? by.index : 0
      this.entries.push(movedEntry(entry, stretch - place.stretch, moved))
    }
  }

  protected override recoloured(index: number): void {
    if (index < this.fresh) this.head = Math.min(this.head, index)
    else this.joined!.tail = Math.min(this.joined!.tail, this.current.figures.length - 1 - index)
  }

  /** A last note that was taken over was not the last. */
  protected override markFinal(): void {
    if (breaksOff(this.entries)) return
    for (let s = this.stretches.length - 1; s >= 0; s--) {
      const stretch = this.stretches[s]!
      const at = stretch.figures.findLastIndex(f => !f.rest)
      if (at < 0) continue
      const final = copied(stretch.figures[at]!)
      final.final = true
      this.stretches[s] = { ...stretch, figures: stretch.figures.with(at, final) }
      this.final = { stretch: s, figure: at }
      return
    }
  }

  private kept({ stretches }: Cut): KeptCut {
    const { begun, joined } = this
    const kept = stretches.map(({ figures }, i): Kept | undefined => {
      const before = begun !== undefined && i <= begun.stretch
      const after = joined !== undefined && i >= joined.stretch
      const same = !before ? 0 : i < begun.stretch ? figures.length : this.head
      const head = this.final?.stretch === i ? Math.min(same, this.final.figure) : same
      const tail = after ? joined.tail : 0
      const of = after ? i - joined.stretch + joined.of : i
      if (after && i > joined.stretch) return { of, head: figures.length, tail: 0 }
      if (before && after && of !== i) return head > tail ? { of: i, head, tail: 0 } : { of, head: 0, tail }
      return before || after ? { of, head, tail: Math.min(tail, figures.length - head) } : undefined
    })
    return { stretches: kept, head: begun?.entry ?? 0, tail: joined?.entries ?? 0 }
  }
}
