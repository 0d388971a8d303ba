/** What drawing one sign gives: its marks where they stand on the staff, and how much room they take, in staff spaces. */
import type { Box, Mark, Path, Role } from "../scene/scene.js"
import { ASCENT, DESCENT, textWidth } from "../text/width.js"
import { around, boxOf } from "./outline.js"
import type { Shapes } from "./shapes.js"

/**
 * Positions are steps above the bottom line of the staff (0 on the line, 1 in the space above it), as MEI's loc. In the marks y
 * is 0 on the bottom line and grows downwards, x is 0 at the left edge of the head or body.
 */
export interface Drawn {
  readonly content: readonly Mark[]
  /** Around all marks. */
  readonly box: Box
  /** Around the head or body, without stems, flags and plicas: what stands at the moment and over the syllable. */
  readonly body: Box
}

export interface SignStyle {
  /** Void heads are the norm. */
  readonly white: boolean
  /** Lines of the staff. */
  readonly lines: number
  /** What the piece defines for itself. */
  readonly shapes?: Shapes | undefined
  /** Of the clefs; "square" without it. */
  readonly clefs?: ClefHand
}

/**
 * How clefs are written: as the letters that they are (the oldest books), as squares on a stroke (black notation), or with the
 * open ladder of white notation.
 */
export type ClefHand = "letter" | "square" | "ladder"

/** A length that a file gives, kept within what can stand on a page, whatever the file says. */
export const within = (value: number, least = 0, most = 12): number => Math.min(most, Math.max(least, value))

/** Positions beyond these are drawn at these. */
export const LOWEST = -40
export const HIGHEST = 60

/** Height of a position: y in staff spaces, the bottom line being 0. */
export const yOf = (position: number): number => 0 - position / 2

/** Filled outlines as one mark. */
export function inked(part: string, path: Path, role: Role = "ink"): Mark {
  return { shape: "path", part, path, fill: role }
}

/** Puts marks together; the body is the box of the outline that is named, or of everything. */
export function drawn(content: readonly Mark[], body?: Box): Drawn {
  const boxes = content.map(markBox)
  const box = boxes.length === 0 ? NOTHING : boxes.reduce(around)
  return { content, box, body: body ?? box }
}

export const NOTHING: Box = { left: 0, top: 0, right: 0, bottom: 0 }
/** A sign of which nothing is to be seen. */
export const UNSEEN: Drawn = { content: [], box: NOTHING, body: NOTHING }

/** How far a mark reaches; a text by its widths, from ascender to descender. */
export function markBox(mark: Mark): Box {
  switch (mark.shape) {
    case "path":
      return boxOf(mark.path)
    case "strokes":
    case "boxes":
      return boxOf(pairs(mark.points).map(([x, y]) => ["L", x, y]))
    case "line":
      return padded(
        {
          left: Math.min(mark.x1, mark.x2),
          right: Math.max(mark.x1, mark.x2),
          top: Math.min(mark.y1, mark.y2),
          bottom: Math.max(mark.y1, mark.y2),
        },
        (mark.stroke?.width ?? 0) / 2,
      )
    case "rect":
      return { left: mark.x, top: mark.y, right: mark.x + mark.width, bottom: mark.y + mark.height }
    case "circle":
      return padded(
        { left: mark.x, right: mark.x, top: mark.y, bottom: mark.y },
        mark.radius + (mark.stroke?.width ?? 0) / 2,
      )
    case "polygon":
      return boxOf(mark.points.map(([x, y]) => ["L", x, y]))
    case "text":
      return textBox(mark)
  }
}

const pairs = (points: readonly number[]): [number, number][] =>
  Array.from({ length: points.length >> 1 }, (_, i) => [points[2 * i]!, points[2 * i + 1]!])

function textBox(mark: Extract<Mark, { shape: "text" }>): Box {
  const { family, size } = mark.type
  const width = mark.length ?? textWidth(mark.text, mark.type)
  const left = mark.x - { start: 0, middle: width / 2, end: width }[mark.anchor ?? "start"]
  return { left, right: left + width, top: mark.y - ASCENT[family] * size, bottom: mark.y + DESCENT[family] * size }
}

const padded = (box: Box, by: number): Box => ({
  left: box.left - by,
  top: box.top - by,
  right: box.right + by,
  bottom: box.bottom + by,
})
