/** Words under a voice: each syllable begins under the left edge of its note, or right after the one before. */
import { keptBy, type Hand } from "../scene/hand.js"
import type { Item } from "../scene/scene.js"
import { elided } from "../text/elision.js"
import { ELISION } from "../text/width.js"
import { gapAfter } from "./formed.js"
import type { Look } from "./options.js"
import type { PlacedVoice } from "./place.js"
import { sungIn, type Sung } from "./sung.js"

interface Standing {
  readonly sung: Sung
  readonly x: number
}

export const drawWords = (placed: PlacedVoice, look: Look): Item[] => keptBy(hand => addWords(placed, look, hand))

export function addWords(placed: PlacedVoice, look: Look, hand: Hand): void {
  const { wordsY, formed, signs, begins } = placed
  if (wordsY === undefined) return
  const here = sungIn(formed.sung, begins, begins + signs.length)
  const standing = spread(placed, here, look)
  for (let i = 0; i < standing.length; i++) {
    const { sung, x } = standing[i]!
    const next = standing[i + 1]?.x ?? placed.axis.right
    const { text, type, width } = sung
    const sign = formed.time.signs[sung.sign]!.sign.id
    if (text.includes(ELISION))
      for (const item of elided({
        shape: "text",
        part: "syllable",
        sign,
        x,
        y: wordsY,
        text,
        type,
        length: width,
        fill: "ink",
      }))
        hand.item(item)
    else hand.words("syllable", sign, x, wordsY, text, type, "start", width, "ink")
    addJoining(sung, x + width, next, wordsY, look, hand)
  }
}

/** From left to right; the last ones keep within the picture. */
function spread({ signs, begins }: PlacedVoice, here: readonly Sung[], look: Look): Standing[] {
  const standing: Moving[] = []
  let free = -Infinity
  for (const sung of here) {
    const own = signs[sung.sign - begins]!.x
    const x = Math.max(own, free)
    standing.push({ sung, x, own })
    free = x + sung.width + gapAfter(sung.join) * look.size
  }
  easeCrowds(standing, look)
  let limit = look.width - look.right * 0.25
  for (let i = standing.length - 1; i >= 0 && standing[i]!.x + standing[i]!.sung.width > limit; i--) {
    standing[i]!.x = limit - standing[i]!.sung.width
    limit = standing[i]!.x - gapAfter(standing[i - 1]?.sung.join ?? " ") * look.size
  }
  return standing
}

interface Moving {
  readonly sung: Sung
  x: number
  /** Of its note. */
  readonly own: number
}

/** Px at full size that a syllable may begin before its note: then it still stands behind its moment. */
const EARLY = 4

/** Px at full size that are good to see between a word's end and the next word, which often stands behind a pillar. */
const APART = 17

/** Where syllables push each other to the right, the first stands a little early, so that the last is less late. */
function easeCrowds(standing: readonly Moving[], { size }: Look): void {
  for (let first = 0, next; first < standing.length; first = next) {
    next = first + 1
    let late = 0
    while (next < standing.length && standing[next]!.x > standing[next]!.own) {
      late = Math.max(late, standing[next]!.x - standing[next]!.own)
      next++
    }
    const before = standing[first - 1]
    const room = before
      ? standing[first]!.x - before.x - before.sung.width - gapAfter(before.sung.join) * size
      : Infinity
    const last = standing[next - 1]!
    const after = (standing[next]?.x ?? Infinity) - last.x - last.sung.width
    const pressed = last.sung.join === "-" ? 0 : Math.max(0, APART * size - after)
    const back = Math.min(Math.max(late / 2, pressed), EARLY * size, room)
    for (let i = first; i < next; i++) standing[i]!.x -= back
  }
}

/** A hyphen within a word, a line under the notes of a long syllable. */
function addJoining({ join, type }: Sung, from: number, to: number, y: number, look: Look, hand: Hand): void {
  const room = to - from
  if (join === "-" && room > 5 * look.size) {
    const [middle, half] = [(from + to) / 2, Math.min(5 * look.size, room * 0.3)]
    const height = y - type.size * 0.24
    return hand.line("hyphen", undefined, middle - half, height, middle + half, height, look.pens.hyphen)
  }
  if (join !== "_" || room < 24 * look.size) return
  hand.line("extender", undefined, from + 4 * look.size, y, to - 8 * look.size, y, look.pens.extender)
}
