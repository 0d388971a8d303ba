/** What stands in a scene, in px of the whole picture: for tests that look for what lies outside or over something else. */
import { markBox, type Box, type Item, type Mark, type Scene, type TextMark } from "../../../drawing/index.js"

export interface PlacedMark {
  readonly mark: Mark
  /** Parts of the groups around it, from the outermost. */
  readonly within: readonly string[]
  /** Signs of the groups around it. */
  readonly signs: readonly string[]
  readonly box: Box
  readonly scale: number
}

export function marksIn({ content }: Pick<Scene, "content">): PlacedMark[] {
  const found: PlacedMark[] = []
  const visit = (
    item: Item,
    x: number,
    y: number,
    scale: number,
    within: readonly string[],
    signs: readonly string[],
  ) => {
    if (item.shape !== "group") {
      const { left, right, top, bottom } = markBox(item)
      const box = { left: x + left * scale, right: x + right * scale, top: y + top * scale, bottom: y + bottom * scale }
      found.push({ mark: item, within, signs: item.sign ? [...signs, item.sign] : signs, box, scale })
      return
    }
    const own = [x + (item.x ?? 0) * scale, y + (item.y ?? 0) * scale, scale * (item.scale ?? 1)] as const
    const parts = item.part === undefined ? within : [...within, item.part]
    for (const inner of item.content) visit(inner, ...own, parts, item.sign ? [...signs, item.sign] : signs)
  }
  for (const item of content) visit(item, 0, 0, 1, [], [])
  return found
}

export type PlacedText = PlacedMark & { readonly mark: TextMark }
/** Numerals of a written proportion are signs of music, not letters. */
export const textsIn = (marks: readonly PlacedMark[]): PlacedText[] =>
  marks.filter((one): one is PlacedText => one.mark.shape === "text" && one.mark.part !== "figure")

/** Ink that is music: heads, stems, rests, clefs, signs, old and new. */
const MUSIC =
  /^(head|rest|dot|stroke|clef|mensuration|figure|accidental|custos|ligature|body|modern-.*|beam|tie|meter|fermata|echo)$/
export const musicIn = (marks: readonly PlacedMark[]): PlacedMark[] => marks.filter(({ mark }) => MUSIC.test(mark.part))

export const overlap = (one: Box, other: Box): number =>
  Math.min(
    Math.min(one.right, other.right) - Math.max(one.left, other.left),
    Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top),
  )

/** Letters of a text from its x-height to its foot: what is certainly ink. */
export function inkOf({ box, mark }: PlacedText): Box {
  const height = box.bottom - box.top
  return {
    ...box,
    top: box.top + height * 0.22,
    bottom: box.bottom - height * (/[gjpqyQ,;()¶]/.test(mark.text) ? 0.06 : 0.23),
  }
}
