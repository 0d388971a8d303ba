/** The contact sheet: every sign and ligature in one drawing, so that all forms can be judged at one look. */
import { parseShorthand } from "../../page/shorthand/index.js"
import type { Sign } from "../../page/index.js"
import type { Box, Group, Item, Scene, TextMark } from "../scene/scene.js"
import { USUAL_CLEF, around, drawSign, type SignStyle } from "../signs/index.js"
import { textWidth } from "../text/width.js"
import { SPECIMENS, type Specimen, type SpecimenRow } from "./specimens.js"

const UNIT = 20
const MARGIN = 3
const LABEL = { family: "figures", size: 0.95 } as const
const TITLE = { family: "words", size: 1.6, weight: 700 } as const
/** From the title of a row to its bottom line, and from there to the next title. */
const ABOVE = 8
const BELOW = 3.9
const LABEL_Y = 2.7
/** Free between two specimens, and between the signs of one. */
const APART = 1.5
const WITHIN = 0.5

/** All signs, by name. */
export function signSheet(): Scene {
  const rows = SPECIMENS.map(drawRow)
  const width = Math.max(...rows.map(one => one.width)) + 2 * MARGIN
  const content = rows.map(({ item }, i): Item => ({ ...item, x: MARGIN, y: MARGIN + i * (ABOVE + BELOW) + ABOVE }))
  return {
    width: Math.ceil(width * UNIT),
    height: Math.ceil((2 * MARGIN + rows.length * (ABOVE + BELOW) - 2) * UNIT),
    unit: UNIT,
    title: "The signs",
    description: SPECIMENS.map(({ title, specimens }) => `${title}: ${namesOf(specimens)}.`).join(" "),
    content: [{ shape: "group", scale: UNIT, content }],
  }
}

const namesOf = (specimens: readonly Specimen[]): string =>
  specimens
    .map(one => one.name)
    .filter(name => name !== "")
    .join(", ")

function drawRow({ title, notation, specimens }: SpecimenRow): { item: Group; width: number } {
  const style: SignStyle = { white: notation === "white", lines: 5 }
  const content: Item[] = []
  let x = 1
  for (const specimen of specimens) {
    const { items, box } = drawSpecimen(specimen, style)
    const label = textWidth(specimen.name, LABEL)
    const room = Math.max(box.right - box.left, label)
    content.push({ shape: "group", x: x - box.left, content: items })
    content.push(text("label", specimen.name, x, LABEL_Y, LABEL, "second"))
    x += room + APART
  }
  const staff = Array.from({ length: 5 }, (_, i) => ({
    shape: "line" as const,
    part: "staff",
    x1: 0,
    x2: x,
    y1: -i,
    y2: -i,
    stroke: { role: "staff" as const, width: 0.08 },
  }))
  const name = text("title", title, 0, -ABOVE + 1.6, TITLE, "red")
  return { item: { shape: "group", part: "row", content: [name, ...staff, ...content] }, width: x }
}

function text(
  part: string,
  words: string,
  x: number,
  y: number,
  type: TextMark["type"],
  fill: "second" | "red",
): TextMark {
  return { shape: "text", part, x, y, text: words, type, length: textWidth(words, type), fill }
}

function drawSpecimen({ written, clefs }: Specimen, rowStyle: SignStyle): { items: Item[]; box: Box } {
  const style = clefs ? { ...rowStyle, clefs } : rowStyle
  const items: Item[] = []
  let box: Box | undefined
  let x = 0
  for (const sign of signsOf(written)) {
    const drawn = drawSign(sign, { clef: USUAL_CLEF, before: 4 }, style)
    const at = box === undefined ? 0 : x + (sign.kind === "dot" ? 0.25 : WITHIN) - drawn.box.left
    items.push(withoutIds({ shape: "group", x: at, content: [drawn.item] }))
    const placed = { ...drawn.box, left: drawn.box.left + at, right: drawn.box.right + at }
    box = box ? around(box, placed) : placed
    x = placed.right
  }
  return { items, box: box ?? { left: 0, right: 0, top: 0, bottom: 0 } }
}

/** The signs of a line of shorthand; the specimens are ours, so one that cannot be read is a fault. */
function signsOf(written: string): readonly Sign[] {
  const page = parseShorthand(written, "specimen")
  if (!page.ok || page.problems.length > 0) throw new Error(`specimen “${written}”: ${page.problems[0]?.what}`)
  return page.value.voices[0]?.signs ?? []
}

/** Ids of specimens would be the same over and over. */
function withoutIds(item: Item): Item {
  if (item.shape !== "group") return item
  const { sign: _sign, ...group } = item
  return { ...group, content: group.content.map(withoutIds) }
}
