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
  type TextMark,
} from "@resolutio/core"
import { SHOWN } from "../../look/theme.js"

/** How far a line may reach beyond its own staff, in staff spaces: for telling whether it is near to being seen. */
const BEYOND = 14

/** A sign or a word on its place in the line, in px. */
export interface DrawnCell {
  /** The same as long as it looks the same. */
  readonly of: Item | string
  readonly x: number
  /** Written when it is wanted. */
  readonly svg: () => string
}

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

  #rest: string | undefined
  #cells: readonly DrawnCell[] | undefined
  #places: ScenePlaces | undefined
  #signs: ReadonlySet<SignId> | undefined

  private constructor(
    private readonly line: Group,
    private readonly scale: number,
  ) {}

  /** The staff, and what else is neither sign nor word. */
  get rest(): string {
    const content = this.line.content.filter(item => !isCell(item) && item.shape !== "text")
    return (this.#rest ??= svgOf([{ ...this.line, content }], { scale: this.scale }, { theme: SHOWN }))
  }

  /** The signs from left to right, then the words. */
  get cells(): readonly DrawnCell[] {
    return (this.#cells ??= [
      ...this.line.content.filter(isCell).map(({ x = 0, content: [of] }) => ({
        of: of!,
        x: x * this.scale,
        svg: () => svgOfCell(of!, this.scale),
      })),
      ...this.line.content.filter(item => item.shape === "text").map(word => this.#word(word)),
    ])
  }

  /** Words move with every sign before them: what they look like says which is which. */
  #word(word: TextMark): DrawnCell {
    const still = { ...word, x: 0 }
    return {
      of: JSON.stringify(still),
      x: word.x * this.scale,
      svg: () => svgOf([still], { scale: this.scale }, { theme: SHOWN }),
    }
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

/** A sign on its place is a group that says nothing else. */
const isCell = (item: Item): item is Group =>
  item.shape === "group" && item.part === undefined && item.content.length === 1

const written = new WeakMap<Item, { readonly scale: number; readonly svg: string }>()
/** Wherever it stands it is written once. */
function svgOfCell(cell: Item, scale: number): string {
  const known = written.get(cell)
  if (known?.scale === scale) return known.svg
  const svg = svgOf([cell], { scale }, { theme: SHOWN })
  written.set(cell, { scale, svg })
  return svg
}

function* signsIn(items: readonly Item[]): Generator<SignId> {
  for (const item of items) {
    if (item.sign !== undefined) yield item.sign
    if (item.shape === "group") yield* signsIn(item.content)
  }
}
