/** Words under a voice: each syllable begins under the left edge of its note, or right after the one before. */
import type { Item, Mark, TextMark } from "../scene/scene.js"
import { elided } from "../text/elision.js"
import { SYLLABLE_GAP } from "./formed.js"
import type { Look } from "./options.js"
import type { PlacedVoice } from "./place.js"
import { sungIn, type Sung } from "./sung.js"

interface Standing {
  readonly sung: Sung
  readonly x: number
}

export function drawWords(placed: PlacedVoice, look: Look): Item[] {
  const { wordsY, formed, signs, begins } = placed
  if (wordsY === undefined) return []
  const here = sungIn(formed.sung, begins, begins + signs.length)
  const standing = spread(placed, here, look)
  const items: Item[] = []
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
    items.push(...elided(word), ...joining(sung, x + sung.width, next, wordsY, look))
  })
  return items
}

/** From left to right; the last ones keep within the picture. */
function spread({ signs, begins }: PlacedVoice, here: readonly Sung[], look: Look): Standing[] {
  const gap = SYLLABLE_GAP * look.size
  const standing: { sung: Sung; x: number }[] = []
  let free = -Infinity
  for (const sung of here) {
    const x = Math.max(signs[sung.sign - begins]!.x, free)
    standing.push({ sung, x })
    free = x + sung.width + gap
  }
  let limit = look.width - look.right * 0.25
  for (let i = standing.length - 1; i >= 0 && standing[i]!.x + standing[i]!.sung.width > limit; i--) {
    standing[i]!.x = limit - standing[i]!.sung.width
    limit = standing[i]!.x - gap
  }
  return standing
}

/** A hyphen within a word, a line under the notes of a long syllable. */
function joining({ join, type }: Sung, from: number, to: number, y: number, look: Look): Mark[] {
  const room = to - from
  if (join === "-" && room > 5 * look.size)
    return [
      {
        shape: "line",
        part: "hyphen",
        x1: (from + to) / 2 - Math.min(5 * look.size, room * 0.3),
        x2: (from + to) / 2 + Math.min(5 * look.size, room * 0.3),
        y1: y - type.size * 0.24,
        y2: y - type.size * 0.24,
        stroke: look.pens.hyphen,
      },
    ]
  if (join !== "_" || room < 24 * look.size) return []
  const line = { shape: "line", part: "extender", x1: from + 4 * look.size, x2: to - 8 * look.size } as const
  return [{ ...line, y1: y, y2: y, stroke: look.pens.extender }]
}
