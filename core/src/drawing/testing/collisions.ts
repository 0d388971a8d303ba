/** Counts what stands in the way of what in a drawn page. Boxes are in px of the whole drawing. */
import type { Box, Group, Item, Mark, Scene } from "../scene/scene.js"
import { around, markBox } from "../signs/index.js"

/** A sign with all that hangs on it, or a text. */
export interface Body {
  readonly name: string
  readonly text: boolean
  readonly box: Box
}

/** Overlaps of less than this part of a staff space are not seen. */
export const TOLERANCE = 0.05

/** Pairs of bodies of which at least one is a text, or both are signs, that overlap in both directions. */
export function collisions(scene: Scene): string[] {
  const bodies = bodiesIn(scene).sort((a, b) => a.box.top - b.box.top)
  const least = TOLERANCE * scene.unit
  const found = cutOff(scene, bodies)
  bodies.forEach((one, i) => {
    for (let k = i + 1; k < bodies.length && bodies[k]!.box.top < one.box.bottom - least; k++)
      if (overlaps(one.box, bodies[k]!.box, least)) found.push(`${one.name} × ${bodies[k]!.name}`)
  })
  return found
}

const overlaps = (a: Box, b: Box, least: number): boolean =>
  Math.min(a.right, b.right) - Math.max(a.left, b.left) > least &&
  Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > least

/** Bodies that reach beyond the picture's edge. */
export function cutOff({ width, height, unit }: Scene, bodies: readonly Pick<Body, "name" | "box">[]): string[] {
  const least = TOLERANCE * unit
  return bodies
    .filter(
      ({ box }) => box.left < -least || box.top < -least || box.right > width + least || box.bottom > height + least,
    )
    .map(({ name }) => `${name} is cut off`)
}

/** Marks that lie under everything. */
const UNDER = new Set(["staff", "ledger", "system", "elision"])

export function bodiesIn(scene: Scene): Body[] {
  const bodies: Body[] = []
  const visit = (item: Item, x: number, y: number, scale: number) => {
    if (item.shape !== "group") {
      if (!UNDER.has(item.part)) bodies.push(bodyOf([item], x, y, scale, item.part))
      return
    }
    const [ix, iy, is] = [x + (item.x ?? 0) * scale, y + (item.y ?? 0) * scale, scale * (item.scale ?? 1)]
    const marks = isCell(item) ? marksOf(item) : undefined
    if (marks) bodies.push(bodyOf(marks, ix, iy, is, firstSign(item) ?? "cell"))
    else for (const inner of item.content) visit(inner, ix, iy, is)
  }
  for (const item of scene.content) visit(item, 0, 0, 1)
  return bodies
}

/** A group without a part of its own around one sign is a cell of a line. */
const isCell = (group: Group): boolean =>
  group.part === undefined && group.scale === undefined && firstSign(group) !== undefined

function firstSign(item: Item): string | undefined {
  if (item.shape !== "group") return undefined
  if (item.sign !== undefined) return item.sign
  return item.content.map(firstSign).find(one => one !== undefined)
}

const marksOf = (item: Item): Mark[] =>
  item.shape === "group" ? item.content.flatMap(marksOf) : UNDER.has(item.part) ? [] : [item]

function bodyOf(marks: readonly Mark[], x: number, y: number, scale: number, name: string): Body {
  const { left, right, top, bottom } = marks.map(markBox).reduce(around)
  const box = { left: x + left * scale, right: x + right * scale, top: y + top * scale, bottom: y + bottom * scale }
  const [first] = marks
  const text = marks.length === 1 && first?.shape === "text"
  return { name: text ? `${first.part} “${first.text}”` : name, text, box }
}
