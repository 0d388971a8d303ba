/** Which letters the two typefaces have, and what stands where neither has one. */
import type { Item, Scene, TextMark, TypeFamily } from "../scene/scene.js"
import { COVERED } from "./metrics.generated.js"

/** Stands for a letter that neither typeface has. */
export const LACKING_BOX = "\u25a1"

/** A scene that can be written with the two typefaces alone. */
export interface WrittenScene {
  /** The very same object where nothing had to be changed. */
  readonly scene: Scene
  /** Letters that neither typeface has, in the order met; in the scene a box stands for each. */
  readonly lacking: readonly string[]
}

/**
 * For pictures that carry their own letters: a text that only the other typeface has is set in that one, and a letter that neither
 * has becomes a box, so that it can be said. Marks that turn the direction of writing go: no script that they are for is there.
 */
export function inOurTypefaces(scene: Scene): WrittenScene {
  const lacking = new Set<string>()
  const content = scene.content.map(item => itemIn(item, lacking))
  const same = content.every((item, i) => item === scene.content[i])
  return { scene: same ? scene : { ...scene, content }, lacking: [...lacking] }
}

function itemIn(item: Item, lacking: Set<string>): Item {
  if (item.shape === "text") return textIn(item, lacking)
  if (item.shape !== "group") return item
  let changed = false
  const content = item.content.map(inner => {
    const own = itemIn(inner, lacking)
    if (own !== inner) changed = true
    return own
  })
  return changed ? { ...item, content } : item
}

/** In both typefaces. */
const PLAIN = /^[ -~\u00a0-\u00ff]*$/

function textIn(mark: TextMark, lacking: Set<string>): TextMark {
  if (PLAIN.test(mark.text)) return mark
  const letters = cleaned(mark.text)
  const other: TypeFamily = mark.type.family === "words" ? "figures" : "words"
  const missing = (family: TypeFamily) => letters.filter(letter => !has(family, letter))
  const own = missing(mark.type.family)
  const better = own.length > 0 && missing(other).length < own.length
  const family = better ? other : mark.type.family
  for (const letter of missing(family)) lacking.add(letter)
  const text = letters.map(letter => (has(family, letter) ? letter : LACKING_BOX)).join("")
  if (text === mark.text && !better) return mark
  return { ...mark, text, type: better ? { ...mark.type, family } : mark.type }
}

/** Letter by letter, composed; a mark over a letter that is lacking goes with it. */
function cleaned(text: string): string[] {
  const letters = [...text.normalize("NFC").replace(IGNORED, "").replace(LONE, "\ufffd")]
  return letters.filter((letter, i) => !MARK.test(letter) || (isThere(letter) && i > 0 && isThere(letters[i - 1]!)))
}
const IGNORED = /[\p{Format}\p{Variation_Selector}\p{Emoji_Modifier}]/gu
const LONE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g
const MARK = /^\p{Mark}$/u

const isThere = (letter: string): boolean => has("words", letter) || has("figures", letter)
// what XML takes for a space is one
const has = (family: TypeFamily, letter: string): boolean =>
  letter === "\t" || letter === "\n" || letter === "\r" || pointsOf(family).has(letter.codePointAt(0)!)

const sets = new Map<TypeFamily, ReadonlySet<number>>()
function pointsOf(family: TypeFamily): ReadonlySet<number> {
  const known = sets.get(family) ?? unpacked(COVERED[family])
  sets.set(family, known)
  return known
}

function unpacked(stretches: string): ReadonlySet<number> {
  const points = new Set<number>()
  for (const stretch of stretches.split(" ")) {
    const [from, to] = stretch.split("-").map(one => parseInt(one, 16))
    for (let point = from!; point <= (to ?? from!); point++) points.add(point)
  }
  return points
}
