/**
 * Who draws tells a hand what there is to be drawn. One hand keeps it as data; the writer of SVG is another, which writes at once,
 * so that a picture of ten thousand marks need not be there before it is written.
 */
import type { SignId } from "../../base/index.js"
import type { Group, Item, Role, Stroking, TextMark, TypeStyle } from "./scene.js"

/** Everything is told with its own numbers: as objects of many kinds marks are slow to make and slower to read. */
export interface Hand {
  /** Begins a group in the units of that around; all that follows is within until it is closed. */
  open(part: string | undefined, sign: SignId | undefined, data: Group["data"]): void
  close(): void
  /** A group of what is there already. */
  group(
    part: string | undefined,
    sign: SignId | undefined,
    x: number,
    y: number,
    scale: number | undefined,
    content: readonly Item[],
  ): void
  rect(
    part: string,
    x: number,
    y: number,
    width: number,
    height: number,
    fill: Role | undefined,
    stroke: Stroking | undefined,
  ): void
  line(part: string, sign: SignId | undefined, x1: number, y1: number, x2: number, y2: number, stroke: Stroking): void
  /** The first `count` of the points; they may be others as soon as this is done. */
  strokes(part: string, points: readonly number[], count: number, stroke: Stroking): void
  boxes(part: string, points: readonly number[], fill: Role): void
  words(
    part: string,
    sign: SignId | undefined,
    x: number,
    y: number,
    text: string,
    type: TypeStyle,
    anchor: NonNullable<TextMark["anchor"]>,
    length: number,
    fill: Role,
  ): void
  /** What is there already. */
  item(item: Item): void
}

/** Lines apart from each other as they are gathered; used again and again, they leave nothing behind. */
export class Lines {
  readonly #points: number[] = []
  #count = 0

  add(x1: number, y1: number, x2: number, y2: number): void {
    const [points, at] = [this.#points, this.#count]
    points[at] = x1
    points[at + 1] = y1
    points[at + 2] = x2
    points[at + 3] = y2
    this.#count = at + 4
  }

  /** All that were added, if there are any; then there are none. */
  drawBy(hand: Hand, part: string, stroke: Stroking): void {
    if (this.#count > 0) hand.strokes(part, this.#points, this.#count, stroke)
    this.#count = 0
  }
}

/** A group that can be drawn by any hand; its content is drawn and given when it is asked for. */
export interface DrawnGroup extends Group {
  readonly draw: (hand: Hand) => void
}

/** Keeps what it is told. */
export class KeepingHand implements Hand {
  readonly items: Item[] = []
  readonly #around: Item[][] = []
  #within = this.items

  open(part: string | undefined, sign: SignId | undefined, data: Group["data"]): void {
    const content: Item[] = []
    this.#within.push({ shape: "group", ...told(part, sign), ...(data ? { data } : {}), content })
    this.#around.push(this.#within)
    this.#within = content
  }
  close(): void {
    const around = this.#around.pop()
    if (!around) throw new Error("KeepingHand.close: no group is open")
    this.#within = around
  }

  group(
    part: string | undefined,
    sign: SignId | undefined,
    x: number,
    y: number,
    scale: number | undefined,
    content: readonly Item[],
  ): void {
    const own = scale === undefined ? {} : { scale }
    this.#within.push({ shape: "group", ...told(part, sign), x, y, ...own, content })
  }

  rect(
    part: string,
    x: number,
    y: number,
    width: number,
    height: number,
    fill: Role | undefined,
    stroke: Stroking | undefined,
  ): void {
    const look = { ...(fill ? { fill } : {}), ...(stroke ? { stroke } : {}) }
    this.#within.push({ shape: "rect", part, x, y, width, height, ...look })
  }

  line(part: string, sign: SignId | undefined, x1: number, y1: number, x2: number, y2: number, stroke: Stroking): void {
    this.#within.push({ shape: "line", part, ...(sign === undefined ? {} : { sign }), x1, y1, x2, y2, stroke })
  }

  strokes(part: string, points: readonly number[], count: number, stroke: Stroking): void {
    this.#within.push({ shape: "strokes", part, points: points.slice(0, count), stroke })
  }

  boxes(part: string, points: readonly number[], fill: Role): void {
    this.#within.push({ shape: "boxes", part, points, fill })
  }

  words(
    part: string,
    sign: SignId | undefined,
    x: number,
    y: number,
    text: string,
    type: TypeStyle,
    anchor: NonNullable<TextMark["anchor"]>,
    length: number,
    fill: Role,
  ): void {
    const more = { ...(sign === undefined ? {} : { sign }), ...(anchor === "start" ? {} : { anchor }) }
    this.#within.push({ shape: "text", part, ...more, x, y, text, type, length, fill })
  }

  item(item: Item): void {
    this.#within.push(item)
  }
}

const told = (part: string | undefined, sign: SignId | undefined): Pick<Group, "part" | "sign"> => ({
  ...(part === undefined ? {} : { part }),
  ...(sign === undefined ? {} : { sign }),
})

/** What a hand is told, as items. */
export function keptBy(draw: (hand: Hand) => void): Item[] {
  const hand = new KeepingHand()
  draw(hand)
  return hand.items
}
