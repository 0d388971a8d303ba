/** What is sung and what is said: syllables under the old staff, rubrics and marks over it. */
import {
  capitalsIn,
  drawWords,
  sungIn,
  textWidth,
  type Axis,
  type FormedVoice,
  type Item,
  type PlacedVoice,
  type TimeVoice,
} from "../../../drawing/index.js"
import { cutTo } from "../letters.js"
import { NEAR } from "../passage.js"
import type { StripLook } from "./look.js"

/** Between one syllable and the next, in units. */
const GAP = 12
/** A syllable may hang over so much of the notes that follow it. */
const OWN = 0.7

/** Px that a unit of time takes so that syllables do not drift away from their notes. */
export function sungScale({ sung, time: { signs } }: FormedVoice, from: number, to: number): number {
  return sung.reduce((least, { sign, width }, i) => {
    const [own, next] = [signs[sign]!, sung[i + 1]]
    const time = next ? signs[next.sign]!.at - own.at : 0
    if (time <= 0 || own.at < from - NEAR || own.at >= to - NEAR) return least
    return Math.max(least, (width * OWN + GAP) / time)
  }, 0)
}

/** Whether anything is sung in this line. */
export const isSung = ({ formed, begins, signs }: Pick<PlacedVoice, "formed" | "begins" | "signs">): boolean =>
  sungIn(formed.sung, begins, begins + signs.length).length > 0

export const sungItems = (placed: PlacedVoice, { signs }: StripLook): Item[] =>
  drawWords(placed, { ...signs, width: placed.axis.right, right: 0 })

/** Over a staff: what a performer is told in words, and signa, at their moments. With y at the top of the row. */
export function rubricsOver(
  { capitals }: TimeVoice,
  axis: Axis,
  { signs }: StripLook,
): { items: Item[]; height: number } {
  const here = capitals.filter(({ at, sign }) => sign?.kind === "mark" && at >= axis.from - NEAR && at < axis.to - NEAR)
  const placed = capitalsIn(here, axis, { ...signs, width: Infinity })
  const begins = axis.left - axis.lead
  const items = withinLine(placed, begins, axis.right).map(({ item, x }): Item => ({
    shape: "group",
    x,
    content: [cutIn(item, axis.right - begins)],
  }))
  return { items, height: Math.max(0, ...placed.map(({ height }) => height)) }
}

/** What would stand over the right end moves back, and with it what is in its way. */
function withinLine<T extends { readonly left: number; readonly right: number }>(
  placed: readonly T[],
  begins: number,
  ends: number,
): (T & { readonly x: number })[] {
  let free = ends
  const moved = placed.toReversed().map(one => {
    const x = Math.max(begins - one.left, Math.min(0, free - one.right))
    free = one.left + x - GAP
    return { ...one, x }
  })
  return moved.toReversed()
}

/** Words longer than the line are cut. */
function cutIn(item: Item, room: number): Item {
  if (item.shape === "group") return { ...item, content: item.content.map(one => cutIn(one, room)) }
  if (item.shape !== "text" || (item.length ?? 0) <= room) return item
  const text = cutTo(item.text, room, item.type)
  return { ...item, text, length: textWidth(text, item.type) }
}
