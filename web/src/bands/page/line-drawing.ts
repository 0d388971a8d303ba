/** A line of the page as it is shown: written as SVG, and measured, only when that is wanted, and once for the same content. */
import {
  placesIn,
  signBoxes,
  svgOf,
  type Box,
  type Group,
  type Item,
  type ScenePlaces,
  type SignId,
} from "@resolutio/core"
import { SHOWN } from "../../look/theme.js"

/** How far a line may reach beyond its own staff, in staff spaces: for telling whether it is near to being seen. */
const BEYOND = 14

export class LineDrawing {
  static readonly #known = new WeakMap<readonly Item[], LineDrawing>()

  /** What was written of a line holds as long as its content is the same. */
  static of(line: Group, scale: number): LineDrawing {
    const known = this.#known.get(line.content)
    if (known?.scale === scale) return known
    const made = new LineDrawing({ ...line, x: 0, y: 0 }, scale)
    this.#known.set(line.content, made)
    return made
  }

  #svg: string | undefined
  #places: ScenePlaces | undefined
  #signs: ReadonlySet<SignId> | undefined

  private constructor(
    private readonly line: Group,
    private readonly scale: number,
  ) {}

  get svg(): string {
    return (this.#svg ??= svgOf([this.line], { scale: this.scale }, { theme: SHOWN }))
  }

  /** In px from the line's own place. */
  get places(): ScenePlaces {
    return (this.#places ??= placesIn({ content: [{ shape: "group", scale: this.scale, content: [this.line] }] }))
  }

  /** Where a sign stands on it, wherever it is drawn; quicker than all places of a line that was just written. */
  boxesOf(sign: SignId): readonly Box[] {
    if (this.#places) return this.#places.signs.get(sign)?.boxes ?? []
    const known = this.#boxes.get(sign)
    if (known) return known
    const boxes = this.holds(sign)
      ? (signBoxes([{ shape: "group", scale: this.scale, content: [this.line] }], new Set([sign])).get(sign) ?? [])
      : []
    this.#boxes.set(sign, boxes)
    return boxes
  }
  readonly #boxes = new Map<SignId, readonly Box[]>()

  holds(sign: SignId): boolean {
    return (this.#signs ??= new Set(signsIn([this.line]))).has(sign)
  }

  /** Something of it may be seen at this height, or so far from it. */
  reaches(y: number, near = 0): boolean {
    return Math.abs(y) <= BEYOND * this.scale + near
  }
}

function* signsIn(items: readonly Item[]): Generator<SignId> {
  for (const item of items) {
    if (item.sign !== undefined) yield item.sign
    if (item.shape === "group") yield* signsIn(item.content)
  }
}
