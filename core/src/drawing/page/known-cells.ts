/** The cells of one voice, kept from one layout to the next: a sign that is still there and stands as it stood has its cell. */
import type { Sign } from "../../page/index.js"
import type { SignStyle } from "../signs/index.js"
import type { Cell, ClefState } from "./cells.js"

interface Known {
  readonly state: ClefState
  readonly position: number | undefined
  readonly style: SignStyle
  /** Null where there is nothing to be seen. */
  readonly cell: Cell | null
}

/** Nearly every sign stands where it stood, or a place or two away: the lists are gone through side by side. */
const NEAR = 3

export class KnownCells {
  readonly #signs: readonly Sign[]
  readonly #style: SignStyle
  readonly #known: (Known | undefined)[] = []
  #before: KnownCells | undefined
  /** Of signs that are there no more: they may come back. */
  readonly #gone: WeakMap<Sign, Known>
  /** Number among the signs of this layout, and of the last one. */
  #at = 0
  #next = 0
  #elsewhere: ReadonlyMap<Sign, number> | undefined
  #isSame = true

  constructor(signs: readonly Sign[], style: SignStyle, before: KnownCells | undefined) {
    this.#signs = signs
    this.#style = style
    this.#before = before
    this.#gone = before ? before.#gone : new WeakMap()
  }

  /** Of the next sign; breaks are passed over. Undefined where it has to be drawn. */
  find(sign: Sign, state: ClefState, position: number | undefined): Cell | null | undefined {
    const known = this.#find(sign)
    if (!known || known.position !== position || !sameState(known.state, state)) return undefined
    if (!sameStyle(known.style, this.#style)) return undefined
    this.#put(sign, known)
    return known.cell
  }

  made(sign: Sign, state: ClefState, position: number | undefined, cell: Cell | null): void {
    this.#put(sign, { state, position, style: this.#style, cell })
  }

  #put(sign: Sign, known: Known): void {
    while (this.#signs[this.#at] !== sign) this.#known[this.#at++] = undefined
    this.#known[this.#at++] = known
  }

  #find(sign: Sign): Known | undefined {
    const before = this.#before
    if (!before) return undefined
    const end = Math.min(before.#signs.length, this.#next + NEAR)
    for (let at = this.#next; at < end; at++) {
      if (before.#signs[at] !== sign) continue
      if (at > this.#next) this.#isSame = false
      this.#next = at + 1
      return before.#known[at]
    }
    this.#isSame = false
    return this.#gone.get(sign) ?? this.#findElsewhere(sign, before)
  }

  #findElsewhere(sign: Sign, before: KnownCells): Known | undefined {
    this.#elsewhere ??= new Map(before.#signs.map((one, at) => [one, at]))
    const at = this.#elsewhere.get(sign)
    if (at === undefined) return undefined
    this.#next = at + 1
    return before.#known[at]
  }

  /** Once all signs have been asked for. */
  end(): void {
    const before = this.#before
    this.#before = this.#elsewhere = undefined
    if (!before || (this.#isSame && before.#signs.length === this.#signs.length)) return
    const here = new Set(this.#signs)
    before.#signs.forEach((sign, at) => {
      const known = before.#known[at]
      if (known && !here.has(sign)) this.#gone.set(sign, known)
    })
  }
}

export const sameStyle = (a: SignStyle, b: SignStyle): boolean =>
  a.white === b.white && a.lines === b.lines && a.clefs === b.clefs && a.shapes === b.shapes

export const sameState = (a: ClefState, b: ClefState): boolean =>
  a === b ||
  (a.clefSign === b.clefSign &&
    a.signature === b.signature &&
    a.clef.shape === b.clef.shape &&
    a.clef.line === b.clef.line &&
    a.clef.octaveShift === b.clef.octaveShift)
