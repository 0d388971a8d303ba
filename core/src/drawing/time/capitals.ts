/** Signs of mensuration and proportion as capitals of the pillars from which they rule, with what they say beside them. */
import { toText } from "../../base/index.js"
import type { Break, MensurationSign } from "../../page/index.js"
import type { MensurationSpan } from "../../reading/index.js"
import type { Box, Item, Mark, PathStep, Role, TextMark } from "../scene/scene.js"
import { bracket, drawMensuration, drawPageMark, isByEditor } from "../signs/index.js"
import { textWidth } from "../text/width.js"
import { lineWidth, type Look } from "./options.js"
import type { Axis } from "./place.js"
import type { Capital } from "./timeline.js"

export interface PlacedCapital {
  readonly at: number
  readonly left: number
  readonly right: number
  /** From the top of the voice down to its foot. */
  readonly height: number
  /** It stands on its pillar, which then begins under it. */
  readonly onPillar: boolean
  /** y is 0 at the top of the voice. */
  readonly item: Item
}

interface Drawing {
  readonly marks: readonly Item[]
  readonly box: Box
  readonly onPillar: boolean
}

const HEIGHT = 33
/** Px at full size to the edge of the picture. */
const EDGE = 6

/** From left to right; one that would touch the one before it stands after it. */
export function capitalsIn(capitals: readonly Capital[], axis: Axis, look: Look): PlacedCapital[] {
  const placed: PlacedCapital[] = []
  let free = -Infinity
  for (const capital of capitals) {
    const { at, sign } = capital
    const drawing = drawingOf(capital, look)
    if (!drawing) continue
    const x = axis.left + (at - axis.from) * axis.scale
    const { left: begins, right: ends } = drawing.box
    // words near the right edge begin earlier, where there is room for them
    const latest = drawing.onPillar ? Infinity : look.width - EDGE * look.size - (ends - begins)
    const left = Math.max(Math.min(x + begins, latest), free)
    const shift = left - begins
    const right = shift + ends
    free = right + 10 * look.size
    placed.push({
      at,
      left,
      right,
      height: (look.compact ? 26 : HEIGHT) * look.size,
      onPillar: drawing.onPillar && left <= x,
      item: {
        shape: "group",
        part: sign?.kind ?? "mensuration",
        ...(sign ? { sign: sign.id } : {}),
        x: shift,
        content: drawing.marks,
      },
    })
  }
  return placed
}

function drawingOf({ sign, span, minims }: Capital, look: Look): Drawing | undefined {
  if (sign?.kind === "mark") return markDrawing(sign, look)
  if (sign?.kind === "break") return breakDrawing(sign, look)
  // what an editor put there is not in the scribe's red
  const role = sign && isByEditor(sign) ? "second" : "red"
  if (sign?.kind === "proportion") return textDrawing(inHand(proportionText(sign.num, sign.numbase), role), role, look)
  const said = look.compact ? "" : saidOf(span, minims)
  if (sign?.sign !== undefined) return signDrawing(sign, said, role, look)
  if (sign?.letter !== undefined)
    return textDrawing(inHand([`.${sign.letter}.`, said].join(" ").trim(), role), role, look)
  if (said === "") return undefined
  // what no sign says on the page: stated by the file, or found, and then in an editor's brackets
  const hand = span?.from === "inferred" ? "second" : role
  return textDrawing(inHand(said, hand), hand, look)
}

const inHand = (text: string, role: Role): string => (role === "second" ? `[${text}]` : text)

const proportionText = (num: number, numbase?: number): string =>
  numbase === undefined ? `${num}` : `${num}/${numbase}`

/** "3 × 2": semibreves in a breve, minims in a semibreve; a perfect modus before them. Nothing where no minims are counted. */
function saidOf(span: MensurationSpan | undefined, minims: boolean): string {
  if (!span || span.tempus === null || !minims) return ""
  const modus = span.modusMaior === 3 ? [3, span.modusMinor ?? 2] : span.modusMinor === 3 ? [3] : []
  const scaled = span.proportion.num === span.proportion.den ? "" : `, ${toText(span.proportion)}`
  return [...modus, span.tempus, span.prolatio ?? 2].join(" × ") + scaled
}

const BASELINE = 24

function label(text: string, x: number, role: Role, look: Look): TextMark {
  const type = look.types.label
  return {
    shape: "text",
    part: "measured",
    x,
    y: BASELINE * look.size,
    text,
    type,
    length: textWidth(text, type),
    fill: role,
  }
}

const boxTo = (left: number, right: number, look: Look): Box => ({ left, right, top: 0, bottom: HEIGHT * look.size })

function textDrawing(text: string, role: Role, look: Look): Drawing {
  const x = 9 * look.size
  const mark = label(text, x, role, look)
  return { marks: [mark], box: boxTo(x, x + mark.length!, look), onPillar: false }
}

function signDrawing(sign: MensurationSign, said: string, role: Role, look: Look): Drawing {
  const bare: MensurationSign = { ...sign }
  const { figures, letter, num, numbase, ...form } = bare
  const { content, body } = drawMensuration(form, { lines: 1, white: false })
  const scale = (look.compact ? 10.5 : 14.5) * look.size
  const x = -((body.left + body.right) / 2) * scale
  const y = (look.compact ? 13 : 16.5) * look.size
  const marks: Item[] = [
    { shape: "circle", part: "halo", x: 0, y, radius: (look.compact ? 12.5 : 16.5) * look.size, fill: "ground" },
    {
      shape: "group",
      x,
      y,
      scale,
      content: [...content.map(mark => inRole(mark, role, lineWidth(look, 1.3) / scale)), ...brackets(body, role)],
    },
  ]
  const beside = [
    figuresText(figures ?? (num === undefined ? [] : [num, ...(numbase === undefined ? [] : [numbase])])),
    letter ? `.${letter}.` : "",
    said,
  ]
  const text = look.compact ? "" : beside.filter(one => one !== "").join("  ")
  const half = (look.compact ? 12.5 : 16.5) * look.size
  if (text === "") return { marks, box: boxTo(-half, half, look), onPillar: true }
  const mark = label(text, (role === "second" ? 28 : 23) * look.size, role, look)
  return { marks: [...marks, mark], box: boxTo(-half, mark.x + mark.length!, look), onPillar: true }
}
const figuresText = (figures: readonly number[]): string => figures.join("/")

/** A little bolder than on a staff: it stands alone. */
const inRole = (mark: Mark, role: Role, width: number): Mark =>
  mark.fill === "ink" ? { ...mark, fill: role, stroke: { role, width, join: "round" } } : mark

/** Within the halo, close to the sign. */
const brackets = ({ left, right, top, bottom }: Box, role: Role): Mark[] =>
  role === "second" ? [bracket(left - 0.3, 1, { top, bottom }), bracket(right + 0.3, -1, { top, bottom })] : []

/** Where a line of the source ended: a short stroke before the moment; two at a column or folio, which is named. */
function breakDrawing({ of, n }: Break, look: Look): Drawing {
  const strokes = of === "line" ? [-7] : [-12, -7]
  const path = strokes.flatMap((x): PathStep[] => [
    ["M", x * look.size, 6 * look.size],
    ["L", x * look.size, 25 * look.size],
  ])
  const mark: Mark = { shape: "path", part: "break", path, stroke: look.pens.break }
  const left = strokes[0]! * look.size - look.pens.break.width
  const name = n === undefined || of === "line" ? "" : of === "folio" ? `f. ${n}` : `col. ${n}`
  if (name === "") return { marks: [mark], box: boxTo(left, -4 * look.size, look), onPillar: false }
  const text = label(name, 0, "second", look)
  return { marks: [mark, text], box: boxTo(left, text.length!, look), onPillar: false }
}

/** Rubrics as words; a signum as its sign. */
function markDrawing(sign: Extract<NonNullable<Capital["sign"]>, { kind: "mark" }>, look: Look): Drawing | undefined {
  const { content, box } = drawPageMark(sign, { lines: 1, white: false })
  const words = content.find(mark => mark.shape === "text")
  const x = 9 * look.size
  if (words?.shape === "text") {
    const type = look.types.rubric
    const mark: TextMark = { ...words, x, y: BASELINE * look.size, type, length: textWidth(words.text, type) }
    return { marks: [mark], box: boxTo(x, x + mark.length!, look), onPillar: false }
  }
  if (content.length === 0) return undefined
  const scale = 12 * look.size
  const left = x - box.left * scale
  return {
    marks: [{ shape: "group", x: left, y: 28 * look.size - box.bottom * scale, scale, content }],
    box: boxTo(x, x + (box.right - box.left) * scale, look),
    onPillar: false,
  }
}
