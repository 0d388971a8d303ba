/**
 * What one layout keeps for the next: signs are values, so a sign that is still there, under the same clef and after the same
 * place, looks as it did. Nothing is kept longer than the sign itself.
 */
import type { LocalShape, Sign } from "../../page/index.js"
import { shapesOf, type Shapes, type SignStyle } from "../signs/index.js"
import type { Cell, ClefState } from "./cells.js"

interface Known {
  readonly state: ClefState
  readonly position: number | undefined
  readonly style: SignStyle
  readonly cells: readonly Cell[]
}

export class Memory {
  /** What the piece defines for itself; while it stays the same, all that was drawn of it does. */
  shapes: Shapes | undefined
  #defined: readonly LocalShape[] = []

  readonly #cells = new WeakMap<Sign, Known>()
  readonly #heads = new WeakMap<Sign, Known>()
  readonly #shortened = new WeakMap<Cell, Cell>()
  readonly #narrowed = new WeakMap<Cell, { readonly room: number; readonly cell: Cell }>()

  define(shapes: readonly LocalShape[]): void {
    if (shapes === this.#defined || (shapes.length === 0 && this.#defined.length === 0)) return
    this.#defined = shapes
    this.shapes = shapesOf(shapes)
  }

  /** The cell of a sign of the source, or none where there is nothing to be seen. */
  cell(sign: Sign, state: ClefState, position: number | undefined, style: SignStyle, make: () => Cell | undefined) {
    return remembered(this.#cells, sign, { state, position, style }, () => {
      const cell = make()
      return cell ? [cell] : []
    })[0]
  }

  /** Clef or signature again at the head of a line. */
  head(sign: Sign, state: ClefState, style: SignStyle, make: () => readonly Cell[]): readonly Cell[] {
    return remembered(this.#heads, sign, { state, position: undefined, style }, make)
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

function remembered(
  map: WeakMap<Sign, Known>,
  sign: Sign,
  now: Omit<Known, "cells">,
  make: () => readonly Cell[],
): readonly Cell[] {
  const known = map.get(sign)
  if (
    known &&
    known.position === now.position &&
    sameStyle(known.style, now.style) &&
    sameState(known.state, now.state)
  )
    return known.cells
  const cells = make()
  map.set(sign, { ...now, cells })
  return cells
}

const sameStyle = (a: SignStyle, b: SignStyle): boolean =>
  a.white === b.white && a.lines === b.lines && a.clefs === b.clefs && a.shapes === b.shapes
const sameState = (a: ClefState, b: ClefState): boolean =>
  a.clefSign === b.clefSign &&
  a.signature === b.signature &&
  a.clef.shape === b.clef.shape &&
  a.clef.line === b.clef.line &&
  a.clef.octaveShift === b.clef.octaveShift
