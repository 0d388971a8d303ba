/**
 * What one layout keeps for the next: signs are values, so a sign that is still there, under the same clef and after the same
 * place, looks as it did.
 */
import type { VoiceId } from "../../base/index.js"
import type { LocalShape, Sign, Voice } from "../../page/index.js"
import { shapesOf, type Shapes, type SignStyle } from "../signs/index.js"
import type { Cell, ClefState, Stretch } from "./cells.js"
import { KnownCells, sameState, sameStyle } from "./known-cells.js"
import type { Line } from "./voice-lines.js"

interface Known {
  readonly state: ClefState
  readonly position: number | undefined
  readonly style: SignStyle
  readonly cells: readonly Cell[]
}

interface SetStretch {
  readonly stretch: Stretch
  readonly look: string
  readonly lines: readonly Line[]
}
/** A stretch is set twice for each layout: as wide as it is by nature, and as wide as the page. */
const LOOKS = 4
/** Clefs and styles under which a signature is kept. */
const CLEFS = 16

export class Memory {
  /** What the piece defines for itself; while it stays the same, all that was drawn of it does. */
  shapes: Shapes | undefined
  #defined: readonly LocalShape[] = []

  readonly #cells = new Map<VoiceId, KnownCells>()
  readonly #heads = new WeakMap<Sign, readonly Known[]>()
  readonly #stretches = new WeakMap<Voice, { shapes: Shapes | undefined; stretches: readonly Stretch[] }>()
  /** By the first cell, and for a stretch whose first cell has changed by the last. */
  readonly #lines = new WeakMap<Cell, readonly SetStretch[]>()
  readonly #known = new WeakMap<Cell, readonly Stretch[]>()
  readonly #widest = new WeakMap<Stretch, number>()
  readonly #shortened = new WeakMap<Cell, Cell>()
  readonly #narrowed = new WeakMap<Cell, { readonly room: number; readonly cell: Cell }>()

  define(shapes: readonly LocalShape[]): void {
    if (shapes === this.#defined || (shapes.length === 0 && this.#defined.length === 0)) return
    this.#defined = shapes
    this.shapes = shapesOf(shapes)
  }

  /** Those of the voice as it was laid last. */
  cells(voice: Voice, style: SignStyle): KnownCells {
    const before = this.#cells.get(voice.id)
    const now = new KnownCells(voice.signs, style, before)
    this.#cells.set(voice.id, now)
    return now
  }

  /** Clef or signature again at the head of a line. A signature goes on under one clef after another. */
  head(sign: Sign, state: ClefState, style: SignStyle, make: () => readonly Cell[]): readonly Cell[] {
    const now = { state, position: undefined, style }
    const all = this.#heads.get(sign) ?? []
    const known = all.find(one => sameKnown(one, now))
    if (known) return known.cells
    const cells = make()
    this.#heads.set(sign, [{ ...now, cells }, ...all.slice(0, CLEFS - 1)])
    return cells
  }

  /** A voice that has not changed is cut once. */
  stretches(voice: Voice, make: () => readonly Stretch[]): readonly Stretch[] {
    const known = this.#stretches.get(voice)
    if (known && known.shapes === this.shapes) return known.stretches
    const stretches = make()
    this.#stretches.set(voice, { shapes: this.shapes, stretches })
    return stretches
  }

  /** A stretch in which nothing has changed is the very same as before. */
  stretch(made: Stretch): Stretch {
    const [first] = made.cells
    if (!first) return made
    const all = this.#known.get(first) ?? []
    const known = all.find(one => sameStretch(one, made))
    if (!known) this.#known.set(first, [made, ...all.slice(0, LOOKS - 1)])
    return known ?? made
  }

  /** Width of the widest of its words; of none -Infinity. */
  widest(stretch: Stretch): number {
    let widest = this.#widest.get(stretch)
    if (widest === undefined) {
      widest = -Infinity
      for (const { words } of stretch.cells) for (const { width } of words) widest = Math.max(widest, width)
      this.#widest.set(stretch, widest)
    }
    return widest
  }

  /** The lines of a stretch in which nothing has changed, set as they were for the same `look`; else what they were is handed on. */
  lines(stretch: Stretch, look: string, make: (before?: readonly Line[]) => readonly Line[]): readonly Line[] {
    const [first, last] = [stretch.cells[0], stretch.cells.at(-1)]
    if (!first || !last) return make()
    const all = (this.#lines.get(first) ?? this.#lines.get(last) ?? []).filter(one => one.look === look)
    const known = all.find(one => sameStretch(one.stretch, stretch))
    const set = known ?? { stretch, look, lines: make(all[0]?.lines) }
    // the last one stands first: it is from there that a change is made
    for (const cell of new Set([first, last])) {
      const others = (this.#lines.get(cell) ?? []).filter(one => one !== set)
      this.#lines.set(cell, [set, ...others.slice(0, LOOKS - 1)])
    }
    return set.lines
  }

  /** A cell whose words would be wider than so much. */
  narrowed(cell: Cell, room: number, make: () => Cell): Cell {
    const known = this.#narrowed.get(cell)
    if (known?.room === room) return known.cell
    const made = make()
    this.#narrowed.set(cell, { room, cell: made })
    return made
  }

  /** A cell without the letter that its initial has taken. */
  shortened(cell: Cell, make: () => Cell): Cell {
    const known = this.#shortened.get(cell) ?? make()
    this.#shortened.set(cell, known)
    return known
  }
}

const sameKnown = (a: Omit<Known, "cells">, b: Omit<Known, "cells">): boolean =>
  a.position === b.position && sameStyle(a.style, b.style) && sameState(a.state, b.state)
const sameStretch = (a: Stretch, b: Stretch): boolean =>
  a === b ||
  (a.label === b.label &&
    a.cells.length === b.cells.length &&
    sameState(a.clef, b.clef) &&
    a.cells.every((cell, i) => cell === b.cells[i]))
