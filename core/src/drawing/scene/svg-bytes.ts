/** What the writer of SVG writes again and again. */
import { bytesOf } from "./text-buffer.js"

/** What is written often, as bytes. The value of a number is closed by what follows it. */
export const AS = {
  group: bytesOf("<g"),
  opened: bytesOf(">\n"),
  groupEnd: bytesOf("</g>\n"),
  path: bytesOf("<path"),
  outline: bytesOf(` d="M`),
  line: bytesOf("<line"),
  rect: bytesOf("<rect"),
  circle: bytesOf("<circle"),
  end: bytesOf(`"/>\n`),
  quote: bytesOf(`"`),
  x: bytesOf(` x="`),
  y: bytesOf(`" y="`),
  width: bytesOf(`" width="`),
  height: bytesOf(`" height="`),
  x1: bytesOf(` x1="`),
  y1: bytesOf(`" y1="`),
  x2: bytesOf(`" x2="`),
  y2: bytesOf(`" y2="`),
  cx: bytesOf(` cx="`),
  cy: bytesOf(`" cy="`),
  r: bytesOf(`" r="`),
  text: bytesOf(`<text x="`),
  length: bytesOf(` textLength="`),
  adjust: bytesOf(`" lengthAdjust="spacingAndGlyphs"`),
  close: bytesOf(">"),
  textEnd: bytesOf("</text>\n"),
  id: bytesOf(` id="`),
  sign: bytesOf(` data-sign="`),
} as const
