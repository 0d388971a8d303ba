/** Words under a voice: each syllable begins under the left edge of its note, or right after the one before. */
import type { Item, Mark, TextMark } from "../scene/scene.js"
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

export function drawWords(placed: PlacedVoice, look: Look): Item[] {
  const items: Item[] = []
  addWords(placed, look, items)
  return items
}

export function addWords(placed: PlacedVoice, look: Look, items: Item[]): void {
  const { wordsY, formed, signs, begins } = placed
  if (wordsY === undefined) return
  const here = sungIn(formed.sung, begins, begins + signs.length)
  const standing = spread(placed, here, look)
  standing.forEach(({ sung, x }, i) => {
    const next = standing[i + 1]?.x ?? placed.axis.right
    const word: TextMark = {
      shape: "text",
      part: "syllable",
      sign: formed.time.signs[sung.sign]!.sign.id,
      x,
      y: wordsY,
      text: sung.text,
      type: sung.type,
      length: sung.width,
      fill: "ink",
    }
    if (sung.text.includes(ELISION)) items.push(...elided(word))
    else items.push(word)
    const joined = joining(sung, x + sung.width, next, wordsY, look)
    if (joined) items.push(joined)
  })
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
function joining({ join, type }: Sung, from: number, to: number, y: number, look: Look): Mark | undefined {
  const room = to - from
  if (join === "-" && room > 5 * look.size)
    return {
      shape: "line",
      part: "hyphen",
      x1: (from + to) / 2 - Math.min(5 * look.size, room * 0.3),
      x2: (from + to) / 2 + Math.min(5 * look.size, room * 0.3),
      y1: y - type.size * 0.24,
      y2: y - type.size * 0.24,
      stroke: look.pens.hyphen,
    }
  if (join !== "_" || room < 24 * look.size) return undefined
  const [x1, x2] = [from + 4 * look.size, to - 8 * look.size]
  return { shape: "line", part: "extender", x1, x2, y1: y, y2: y, stroke: look.pens.extender }
}
