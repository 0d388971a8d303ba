/** Marks that are no outlines, each where the pen stands. */
import { textWidth } from "../text/width.js"
import { writeBareData, writeBoxData, writeStrokes } from "./path-data.js"
import type { CircleMark, Mark, Path, PathMark, PolygonMark, Role, Stroking, TextMark, TypeStyle } from "./scene.js"
import { AS } from "./svg-bytes.js"
import type { SvgPen } from "./svg-pen.js"

export function writeMark(mark: Exclude<Mark, PathMark>, pen: SvgPen): void {
  const { part, sign, fill, stroke, opacity } = mark
  switch (mark.shape) {
    case "line":
      return writeLine(pen, part, sign, mark.x1, mark.y1, mark.x2, mark.y2, fill, stroke, opacity)
    case "rect":
      return writeRect(pen, part, sign, mark.x, mark.y, mark.width, mark.height, fill, stroke, opacity)
    case "circle":
      return writeCircle(mark, pen)
    case "strokes":
    case "boxes":
      return writeListed(pen, mark.shape, part, sign, mark.points, mark.points.length, fill, stroke, opacity)
    case "polygon":
      return writePolygon(mark, pen)
    case "text":
      return writeText(mark, pen)
  }
}

const hundredths = (value: number): number => Math.round(value * 100)

export function writeLine(
  pen: SvgPen,
  part: string,
  sign: string | undefined,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  fill: Role | undefined,
  stroke: Stroking | undefined,
  opacity: number | undefined,
): void {
  if (!pen.styles.isSeen(fill, stroke)) return
  const { out, x, y, scale } = pen
  out.bytes(AS.line)
  pen.attributes(part, "line", sign, fill, stroke, opacity)
  out.numbered(AS.x1, hundredths(x + x1 * scale))
  out.numbered(AS.y1, hundredths(y + y1 * scale))
  out.numbered(AS.x2, hundredths(x + x2 * scale))
  out.numbered(AS.y2, hundredths(y + y2 * scale))
  out.bytes(AS.end)
}

export function writeRect(
  pen: SvgPen,
  part: string,
  sign: string | undefined,
  left: number,
  top: number,
  width: number,
  height: number,
  fill: Role | undefined,
  stroke: Stroking | undefined,
  opacity: number | undefined,
): void {
  if (!pen.styles.isSeen(fill, stroke)) return
  const { out, x, y, scale } = pen
  out.bytes(AS.rect)
  pen.attributes(part, "rect", sign, fill, stroke, opacity)
  out.numbered(AS.x, hundredths(x + left * scale))
  out.numbered(AS.y, hundredths(y + top * scale))
  out.numbered(AS.width, hundredths(width * scale))
  out.numbered(AS.height, hundredths(height * scale))
  out.bytes(AS.end)
}

function writeCircle(mark: CircleMark, pen: SvgPen): void {
  if (!pen.styles.isSeen(mark.fill, mark.stroke)) return
  const { out, x, y, scale } = pen
  out.bytes(AS.circle)
  pen.attributes(mark.part, mark.shape, mark.sign, mark.fill, mark.stroke, mark.opacity)
  out.numbered(AS.cx, hundredths(x + mark.x * scale))
  out.numbered(AS.cy, hundredths(y + mark.y * scale))
  out.numbered(AS.r, hundredths(mark.radius * scale))
  out.bytes(AS.end)
}

/** Strokes and boxes are lists of points, of which the first says where the outline begins. */
export function writeListed(
  pen: SvgPen,
  shape: "strokes" | "boxes",
  part: string,
  sign: string | undefined,
  points: readonly number[],
  count: number,
  fill: Role | undefined,
  stroke: Stroking | undefined,
  opacity: number | undefined,
): void {
  if (count < 4 || !pen.styles.isSeen(fill, stroke)) return
  const { out, x, y, scale } = pen
  out.bytes(AS.path)
  pen.attributes(part, shape, sign, fill, stroke, opacity)
  out.bytes(AS.outline)
  out.hundredthsPair(hundredths(x + points[0]! * scale), hundredths(y + points[1]! * scale))
  if (shape === "strokes") writeStrokes(points, count, scale, out)
  else writeBoxData(points, scale, out)
  out.bytes(AS.end)
}

function writePolygon(mark: PolygonMark, pen: SvgPen): void {
  if (!pen.styles.isSeen(mark.fill, mark.stroke)) return
  const { out, x, y, scale } = pen
  out.text(mark.open ? "<polyline" : "<polygon")
  pen.attributes(mark.part, mark.shape, mark.sign, mark.fill, mark.stroke, mark.opacity)
  out.text(` points="`)
  mark.points.forEach(([px, py], i) => {
    if (i > 0) out.text(" ")
    out.pair(x + px * scale, y + py * scale)
  })
  out.bytes(AS.end)
}

function writeText(mark: TextMark, pen: SvgPen): void {
  const { part, sign, x, y, text, type, anchor = "start", length, fill, stroke, opacity } = mark
  const outline = pen.styles.isSeen(fill, stroke) ? pen.outline?.(mark) : undefined
  if (outline) return writeOutlined(mark, outline, pen)
  writeWords(pen, part, sign, x, y, text, type, anchor, length, fill, stroke, opacity)
}

/** Words in letters. */
export function writeWords(
  pen: SvgPen,
  part: string,
  sign: string | undefined,
  left: number,
  foot: number,
  text: string,
  type: TypeStyle,
  anchor: NonNullable<TextMark["anchor"]>,
  length: number | undefined,
  fill: Role | undefined,
  stroke: Stroking | undefined,
  opacity: number | undefined,
): void {
  if (!pen.styles.isSeen(fill, stroke)) return
  const { out, x, y, scale } = pen
  out.bytes(AS.text)
  out.hundredths(hundredths(x + left * scale))
  out.numbered(AS.y, hundredths(y + foot * scale))
  out.bytes(AS.quote)
  out.bytes(pen.styles.typed(type, scale))
  if (anchor !== "start") pen.plain(" text-anchor", anchor)
  if (isLongerThanTwo(text)) {
    out.bytes(AS.length)
    out.hundredths(hundredths((length ?? textWidth(text, type)) * scale))
    out.bytes(AS.adjust)
  }
  pen.attributes(part, "text", sign, fill, stroke, opacity)
  out.bytes(AS.close)
  out.value(text)
  out.bytes(AS.textEnd)
}

/** Letters as outlines, with their words for whoever has the picture read to them. */
function writeOutlined(mark: TextMark, path: Path, pen: SvgPen): void {
  const { out, x, y, scale } = pen
  const width = mark.length ?? textWidth(mark.text, mark.type)
  const back = { start: 0, middle: width / 2, end: width }[mark.anchor ?? "start"]
  out.bytes(AS.path)
  pen.attributes(mark.part, mark.shape, mark.sign, mark.fill, mark.stroke, mark.opacity)
  pen.attribute(` role="img" aria-label`, mark.text)
  const [first] = path
  out.text(` d="`)
  if (first?.[0] === "M") {
    out.text("M")
    out.pair(x + (mark.x - back + first[1]) * scale, y + (mark.y + first[2]) * scale)
    writeBareData(path, scale, out)
  }
  out.bytes(AS.end)
}

/** Letters are counted, not their halves. */
const isLongerThanTwo = (text: string): boolean => text.length > 4 || (text.length > 2 && [...text].length > 2)
