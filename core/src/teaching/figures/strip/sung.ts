/** What is sung and what is said: syllables under the old staff, rubrics and marks over it. */
import {
  capitalsIn,
  drawWords,
  sungIn,
  type Axis,
  type FormedVoice,
  type Item,
  type PlacedVoice,
  type TimeVoice,
} from "../../../drawing/index.js"
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
export const isSung = ({ formed, begins, signs }: PlacedVoice): boolean =>
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
  const placed = capitalsIn(here, axis, signs)
  const whole = placed.filter(({ left, right }) => right - left <= axis.right - axis.left)
  const items = whole.map(({ item, right }): Item => ({
    shape: "group",
    x: Math.min(0, axis.right - right),
    content: [item],
  }))
  return { items, height: Math.max(0, ...whole.map(({ height }) => height)) }
}
