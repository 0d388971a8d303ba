/** What stands close before a note and has no moment of its own. */
import type { Box, Item } from "../scene/scene.js"
import { around, drawSign, type SignStyle } from "../signs/index.js"
import { NO_FORM, scaledBox, type Form } from "./form.js"
import type { Look } from "./options.js"
import type { Beside, TimedSign } from "./timeline.js"

/** Px at full size that are left free before a moment. */
const PILLAR_ROOM = 4

/** Accidentals, clefs, strokes that stand before a moment, from right to left; x 0 is where the first of them ends. */
export function besideForm(
  signs: readonly Beside[],
  timed: Pick<TimedSign, "clef" | "position">,
  style: SignStyle,
  look: Look,
): Form {
  const items: Item[] = []
  const pieces: Box[] = []
  let x = 0
  for (const sign of [...signs].reverse()) {
    if (look.compact && sign.kind !== "accidental" && sign.kind !== "stroke") continue
    const drawn = drawSign(sign, { clef: timed.clef, before: timed.position }, style)
    const width = drawn.box.right - drawn.box.left
    if (width <= 0) continue
    const space = look.compact ? look.headSpace * 0.8 : look.staffSpace
    // an accidental stands by its head; all else keeps clear of the pillar on the moment
    if (sign.kind !== "accidental") x = Math.min(x, 0.25 * space - look.after - PILLAR_ROOM * look.size)
    x -= width * space + 0.25 * space
    const y = look.compact ? -((drawn.box.top + drawn.box.bottom) / 2) * space : 0
    items.push({ shape: "group", x: x - drawn.box.left * space, y, scale: space, content: [drawn.item] })
    pieces.push(scaledBox(drawn.box, space, x - drawn.box.left * space, y))
  }
  if (items.length === 0) return NO_FORM
  return { box: pieces.reduce(around), pieces, body: NO_FORM.box, drawing: { kind: "single", items } }
}
