/** Marks that are no outlines, each where the pen stands. */
import { textWidth } from "../text/width.js"
import { writeBareData, writeBoxData, writeStrokes } from "./path-data.js"
import type {
  BoxesMark,
  CircleMark,
  LineMark,
  Mark,
  Path,
  PathMark,
  PolygonMark,
  RectMark,
  StrokesMark,
  TextMark,
} from "./scene.js"
import { AS } from "./svg-bytes.js"
import type { SvgPen } from "./svg-pen.js"

export function writeMark(mark: Exclude<Mark, PathMark>, pen: SvgPen): void {
  switch (mark.shape) {
    case "line":
      return writeLine(mark, pen)
    case "rect":
      return writeRect(mark, pen)
    case "circle":
      return writeCircle(mark, pen)
    case "strokes":
    case "boxes":
      return writeListed(mark, pen)
    case "polygon":
      return writePolygon(mark, pen)
    case "text":
      return writeWords(mark, pen)
  }
}

const hundredths = (value: number): number => Math.round(value * 100)

function writeLine(mark: LineMark, pen: SvgPen): void {
  if (!pen.styles.isSeen(mark.fill, mark.stroke)) return
  const { out, x, y, scale } = pen
  out.bytes(AS.line)
  pen.attributes(mark.part, mark.shape, mark.sign, mark.fill, mark.stroke, mark.opacity)
  out.numbered(AS.x1, hundredths(x + mark.x1 * scale))
  out.numbered(AS.y1, hundredths(y + mark.y1 * scale))
  out.numbered(AS.x2, hundredths(x + mark.x2 * scale))
  out.numbered(AS.y2, hundredths(y + mark.y2 * scale))
  out.bytes(AS.end)
}

function writeRect(mark: RectMark, pen: SvgPen): void {
  if (!pen.styles.isSeen(mark.fill, mark.stroke)) return
  const { out, x, y, scale } = pen
  out.bytes(AS.rect)
  pen.attributes(mark.part, mark.shape, mark.sign, mark.fill, mark.stroke, mark.opacity)
  out.numbered(AS.x, hundredths(x + mark.x * scale))
  out.numbered(AS.y, hundredths(y + mark.y * scale))
  out.numbered(AS.width, hundredths(mark.width * scale))
  out.numbered(AS.height, hundredths(mark.height * scale))
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
function writeListed(mark: StrokesMark | BoxesMark, pen: SvgPen): void {
  if (!pen.styles.isSeen(mark.fill, mark.stroke)) return
  const { points } = mark
  if (points.length < 4) return
  const { out, x, y, scale } = pen
  out.bytes(AS.path)
  pen.attributes(mark.part, mark.shape, mark.sign, mark.fill, mark.stroke, mark.opacity)
  out.bytes(AS.outline)
  out.hundredthsPair(hundredths(x + points[0]! * scale), hundredths(y + points[1]! * scale))
  if (mark.shape === "strokes") writeStrokes(points, scale, out)
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

function writeWords(mark: TextMark, pen: SvgPen): void {
  if (!pen.styles.isSeen(mark.fill, mark.stroke)) return
  const { out, x, y, scale } = pen
  const outline = pen.outline?.(mark)
  if (outline) return writeOutlined(mark, outline, pen)
  const { text, type, anchor = "start" } = mark
  out.bytes(AS.text)
  out.hundredths(hundredths(x + mark.x * scale))
  out.numbered(AS.y, hundredths(y + mark.y * scale))
  out.bytes(AS.quote)
  out.bytes(pen.styles.typed(type, scale))
  if (anchor !== "start") pen.plain(" text-anchor", anchor)
  if (isLongerThanTwo(text)) {
    out.bytes(AS.length)
    out.hundredths(hundredths(lengthOf(mark) * scale))
    out.bytes(AS.adjust)
  }
  pen.attributes(mark.part, mark.shape, mark.sign, mark.fill, mark.stroke, mark.opacity)
  out.bytes(AS.close)
  out.value(text)
  out.bytes(AS.textEnd)
}

/** Letters as outlines, with their words for whoever has the picture read to them. */
function writeOutlined(mark: TextMark, path: Path, pen: SvgPen): void {
  const { out, x, y, scale } = pen
  const width = lengthOf(mark)
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

const lengthOf = (mark: TextMark): number => mark.length ?? textWidth(mark.text, mark.type)
