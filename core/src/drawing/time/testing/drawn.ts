/** A piece in shorthand as a time view, and ways to ask what is in it. */
import { parseShorthand, type Page } from "../../../page/index.js"
import { alignVoices } from "../../../score/index.js"
import { readTogether } from "../../../together/index.js"
import type { Group, Item, Mark, Scene } from "../../scene/scene.js"
import { drawTime, type TimeOptions } from "../index.js"
import type { TimeInput } from "../timeline.js"

export function inputOf(page: Page): TimeInput {
  const { readings } = readTogether(page)
  return { page, readings, score: alignVoices(page, readings) }
}

export function pageOf(text: string): Page {
  const read = parseShorthand(text, "test.figurae")
  if (!read.ok) throw new Error(read.problems.map(one => one.what).join(" "))
  return read.value
}

export const timeOf = (text: string, options: TimeOptions = {}): Scene => drawTime(inputOf(pageOf(text)), options)

/** A mark or group as it stands in the picture, in px. */
export interface Found {
  readonly item: Item
  readonly x: number
  readonly y: number
  readonly scale: number
  /** Of the groups around it, outermost first. */
  readonly around: readonly Group[]
}

export function everything(
  items: readonly Item[],
  at = { x: 0, y: 0, scale: 1 },
  around: readonly Group[] = [],
): Found[] {
  return items.flatMap(item => {
    const own: Found = { item, ...at, around }
    if (item.shape !== "group") return [own]
    const inner = {
      x: at.x + (item.x ?? 0) * at.scale,
      y: at.y + (item.y ?? 0) * at.scale,
      scale: at.scale * (item.scale ?? 1),
    }
    return [own, ...everything(item.content, inner, [...around, item])]
  })
}

export const parts = (scene: Scene, part: string): Found[] =>
  everything(scene.content).filter(({ item }) => item.part === part)

export const marksOf = (scene: Scene): (Found & { item: Mark })[] =>
  everything(scene.content).filter((found): found is Found & { item: Mark } => found.item.shape !== "group")

/** Band of each note and rest: where it begins, how wide it is, and its exact times. */
export function bands(scene: Scene): { id: string; x: number; width: number; onset: string; duration: string }[] {
  return parts(scene, "duration").flatMap(({ item }) => {
    if (item.shape !== "group") return []
    const band = item.content.find(one => one.part === "band" || one.part === "empty-band")
    if (band?.shape !== "rect") return []
    return [
      { id: item.sign!, x: band.x, width: band.width, onset: item.data!["onset"]!, duration: item.data!["duration"]! },
    ]
  })
}
