/**
 * Old signs over a modern staff: where the engraver has put characters of its own for a sign of mensuration, a proportion or a
 * stroke, our form of it stands in their place, the same as in the prefatory staves and on the old page.
 */
import { signId } from "../../base/index.js"
import {
  drawMensuration,
  drawProportion,
  drawStroke,
  editorial,
  toSvg,
  type Drawn,
  type Item,
  type SignStyle,
} from "../../drawing/index.js"
import { IN_BRACKETS } from "../../formats/mei/modern/index.js"
import { splitTokens, tokenPart, tokenParts, type Tokens } from "../../formats/mei/tokens.js"
import type { MensurationSign, Stroke } from "../../page/index.js"
import { PRINT_THEME } from "../print-theme.js"
import { allOf, attributeOf, childrenOf, hasClass, readSvg, type SvgNode } from "./svg-tree.js"

/** Units of the engraver in a staff space. */
const SPACE = 180
/** Over the staff a sign is a little smaller than on it, and no higher than so many spaces. */
const SIZE = 0.7
const HIGHEST = 2.2
/** Strokes are small as they are. */
const STROKE = 1.3
const STYLE: SignStyle = { white: true, lines: 5 }

/** The group of a direction with our form in it; as it was where it stands for no old sign. */
export function withOldSign(node: SvgNode): SvgNode {
  const text = hasClass(node, "dir") ? childrenOf(node).find(({ name }) => name === "text") : undefined
  const drawn = text && formOf(splitTokens(attributeOf(node, "class")))
  if (!text || !drawn || drawn.content.length === 0) return node
  const [x, y] = [Number(attributeOf(text, "x")), Number(attributeOf(text, "y"))]
  const { left, top, bottom } = drawn.box
  const size = hasClass(node, "stroke") ? STROKE : SIZE
  const scale = SPACE * Math.min(size, HIGHEST / Math.max(0.1, bottom - top))
  // characters of music stand around the line of the words, letters upon it
  const line = [...allOf(text, part => hasClass(part, "symbol"))].length > 0 ? (top + bottom) / 2 : bottom
  return {
    ...node,
    attributes: { ...node.attributes, "font-style": "normal" },
    children: nodesOf({ shape: "group", x: x - left * scale, y: y - line * scale, scale, content: drawn.content }),
  }
}

/** What the words of the type say. */
function formOf(words: Tokens): Form | undefined {
  const drawn = plainForm(words)
  return drawn && words.includes(IN_BRACKETS) ? bracketed(drawn) : drawn
}

interface Form extends Pick<Drawn, "box"> {
  readonly content: readonly Item[]
}

/** As the old page shows what an editor supplied. */
function bracketed({ content, box }: Drawn): Form {
  const sign: MensurationSign = { kind: "mensuration", id: ID, editorial: { kind: "supplied" } }
  const { item, box: wide } = editorial(sign, { shape: "group", content }, box)
  return { content: [item], box: wide }
}

function plainForm(words: Tokens): Drawn | undefined {
  const figures = (tokenParts(words, "figures") ?? []).map(Number)
  if (words.includes("mensuration")) return drawMensuration(mensurationIn(words, figures), STYLE)
  if (words.includes("proportion") && figures[0] !== undefined) {
    const [num, numbase] = figures
    return drawProportion({ kind: "proportion", id: ID, num, ...(numbase !== undefined && { numbase }) }, STYLE)
  }
  const form = words.includes("stroke") ? tokenPart(words, "form") : undefined
  return form === undefined ? undefined : drawStroke({ kind: "stroke", id: ID, form: form as Stroke["form"] }, STYLE)
}

const ID = signId("over")

function mensurationIn(words: Tokens, figures: readonly number[]): MensurationSign {
  const sign = tokenPart(words, "sign") as MensurationSign["sign"]
  const letter = tokenPart(words, "letter")
  const orientation = tokenPart(words, "orientation") as MensurationSign["orientation"]
  return {
    kind: "mensuration",
    id: ID,
    dots: Number(tokenPart(words, "dots") ?? 0),
    strokes: Number(tokenPart(words, "strokes") ?? 0),
    reversed: words.includes("reversed"),
    figures,
    ...(sign && { sign }),
    ...(letter !== undefined && { letter }),
    ...(orientation && { orientation }),
  }
}

function nodesOf(item: Item): SvgNode[] {
  const scene = { width: 1, height: 1, unit: SPACE, title: "", description: "", content: [item] }
  const root = readSvg(toSvg(scene, { theme: PRINT_THEME, idPrefix: "over-" }))
  return childrenOf(root).filter(({ name }) => name !== "title" && name !== "desc")
}
