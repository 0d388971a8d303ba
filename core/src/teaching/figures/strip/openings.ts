/** What stands at the head of the staves: clef, signature, sign of mensuration; and the same in modern signs. */
import {
  drawClef,
  drawSign,
  drawSignature,
  type Box,
  type Group,
  type Item,
  type TimeVoice,
} from "../../../drawing/index.js"
import type { MensurationSign, Proportion } from "../../../page/index.js"
import { NEAR, type Passage } from "../passage.js"
import { openingForm } from "../modern/opening.js"
import type { StripLook } from "./look.js"
import type { ModernVoice } from "./modern-voice.js"

export interface Opening {
  /** From its left edge to where the first note's moment may be. */
  readonly width: number
  /** In units, with x at the left edge and y on the bottom line. */
  readonly item: Group
  readonly box: Box
}

/** In staff spaces: before the clef, between signs, after the last. */
const [BEFORE, BETWEEN, BEHIND] = [0.55, 0.75, 0.5]

/** Where the passage does not begin with them, clef and sign are those in force, and the sign is an editor's. */
export function oldOpening(
  { heads, style, signs }: TimeVoice,
  measured: readonly (MensurationSign | Proportion)[],
  { from }: Passage,
  { space }: StripLook,
): Opening {
  const begins = from < NEAR
  const { clef, signature } = heads[0] ?? {}
  const content: Item[] = []
  let x = BEFORE
  let [top, bottom] = [0, 0]
  const add = (part: string, drawn: { box: Box; content: readonly Item[] }) => {
    if (drawn.box.right - drawn.box.left <= 0) return
    content.push({ shape: "group", part, x: x - drawn.box.left, content: drawn.content })
    x += drawn.box.right - drawn.box.left + BETWEEN
    top = Math.min(top, drawn.box.top)
    bottom = Math.max(bottom, drawn.box.bottom)
  }
  const inForce = signs.find(one => one.at >= from - NEAR)?.clef
  const drawnClef = clef && inForce ? { ...clef, ...inForce } : clef
  if (drawnClef) add("clef", drawClef(drawnClef, style.clefs))
  if (signature) add("signature", drawSignature(signature, drawnClef ?? { shape: "C", line: 3 }, style))
  for (const sign of measured) {
    const { item, box } = drawSign(sign, { clef: drawnClef ?? { shape: "C", line: 3 } }, style)
    add(sign.kind, { box, content: [begins ? item : inSecondInk(item)] })
  }
  const right = x - BETWEEN + BEHIND
  const item: Group = { shape: "group", part: "opening", scale: space, content }
  return {
    width: right * space,
    item,
    box: { left: 0, right: right * space, top: top * space, bottom: bottom * space },
  }
}

/** It is not written here. */
function inSecondInk(item: Item): Item {
  if (item.shape === "group") {
    const { sign: _sign, ...group } = item
    return { ...group, content: group.content.map(inSecondInk) }
  }
  return item.fill === "ink" ? { ...item, fill: "second" } : item
}

export function modernOpening({ clef, score, meter }: ModernVoice, { modernSpace }: StripLook): Opening {
  const form = openingForm(clef, score.signatures[0]?.accidentals ?? [], meter)
  const x = BEFORE * modernSpace
  const { left, right, top, bottom } = form.box
  const item: Group = { shape: "group", part: "modern-opening", x, scale: modernSpace, content: form.marks }
  const box = {
    left: left * modernSpace,
    right: right * modernSpace,
    top: top * modernSpace,
    bottom: bottom * modernSpace,
  }
  return { width: x + box.right + BEHIND * modernSpace, item, box }
}
