/**
 * Counts what stands in the way of what in a time view: signs, modern values, words and numbers. Bands, pillars, threads and
 * what is drawn round a sign lie under or around others by their nature and are left out. Outlines are taken contour by
 * contour, so that the room beside a stem is free.
 */
import type { Box, Group, Item, Mark, Path, PathStep, Scene } from "../scene/scene.js"
import { markBox } from "../signs/index.js"
import { extentOf } from "./extent.js"
import { cutOff, TOLERANCE } from "./collisions.js"

export interface TimeBody {
  readonly name: string
  readonly text: boolean
  /** In px of the drawing. */
  readonly pieces: readonly Box[]
}

/** Names of the groups, as their classes are written. */
const BODIES: ReadonlySet<string> = new Set(
  "note rest ligature dot echo-note clef signature custos accidental stroke mensuration proportion modern-value".split(
    " ",
  ),
)
/** Grounds of a sign that are not the sign. */
const UNDER: ReadonlySet<string> = new Set(["halo"])

interface At {
  readonly x: number
  readonly y: number
  readonly scale: number
}

export function timeCollisions(scene: Scene): string[] {
  const bodies = timeBodies(scene)
    .map(body => ({ ...body, box: body.pieces.reduce(aroundBoxes) }))
    .sort((a, b) => a.box.top - b.box.top)
  const least = TOLERANCE * scene.unit
  const found = cutOff(scene, bodies)
  bodies.forEach((one, i) => {
    for (let k = i + 1; k < bodies.length && bodies[k]!.box.top < one.box.bottom - least; k++) {
      const other = bodies[k]!
      if (overlap(one.box, other.box, least) && one.pieces.some(a => other.pieces.some(b => overlap(a, b, least))))
        found.push(`${one.name} × ${other.name} at ${Math.round(other.box.left)}, ${Math.round(other.box.top)}`)
    }
  })
  return found
}

export function timeBodies(scene: Scene): TimeBody[] {
  const bodies: TimeBody[] = []
  const visit = (item: Item, at: At) => {
    if (item.shape !== "group") {
      if (item.shape === "text")
        bodies.push({ name: `${item.part} “${item.text}”`, text: true, pieces: [letters(item, at)] })
      return
    }
    const inner = within(item, at)
    if (item.part !== undefined && BODIES.has(item.part)) {
      const marks = marksIn(item, at)
      const pieces = marks.filter(one => one.mark.shape !== "text").flatMap(one => contours(one.mark, one.at))
      if (pieces.length > 0) bodies.push({ name: `${item.part} ${item.sign ?? ""}`.trim(), text: false, pieces })
      for (const { mark, at: place } of marks) if (mark.shape === "text") visit(mark, place)
      return
    }
    for (const one of item.content) visit(one, inner)
  }
  for (const item of scene.content) visit(item, { x: 0, y: 0, scale: 1 })
  return bodies
}

const within = ({ x = 0, y = 0, scale = 1 }: Group, at: At): At => ({
  x: at.x + x * at.scale,
  y: at.y + y * at.scale,
  scale: at.scale * scale,
})

function marksIn(item: Item, at: At): { mark: Mark; at: At }[] {
  if (item.shape !== "group") return UNDER.has(item.part) ? [] : [{ mark: item, at }]
  return item.content.flatMap(inner => marksIn(inner, within(item, at)))
}

const placed = ({ left, right, top, bottom }: Box, { x, y, scale }: At): Box => ({
  left: x + left * scale,
  right: x + right * scale,
  top: y + top * scale,
  bottom: y + bottom * scale,
})

function contours(mark: Mark, at: At): Box[] {
  if (mark.shape === "strokes") return strokesOf(mark.points).map(box => placed(box, at))
  if (mark.shape !== "path") return [placed(markBox(mark), at)]
  const known = extents.get(mark.path) ?? split(mark.path).map(extentOf)
  extents.set(mark.path, known)
  return known.map(box => placed(box, at))
}

const strokesOf = (points: readonly number[]): Box[] =>
  Array.from({ length: points.length >> 2 }, (_, i) =>
    markBox({ shape: "strokes", part: "stroke", points: points.slice(4 * i, 4 * i + 4) }),
  )

/** Signs that look alike have one outline between them. */
const extents = new WeakMap<Path, readonly Box[]>()

function split(path: Path): Path[] {
  const parts: PathStep[][] = []
  for (const step of path) {
    if (step[0] === "M") parts.push([])
    parts.at(-1)?.push(step)
  }
  return parts
}

/** From the height of a capital to the line on which the letters stand; words reach a little below it. */
function letters(mark: Extract<Mark, { shape: "text" }>, at: At): Box {
  const { left, right, top, bottom } = markBox(mark)
  const { size, family } = mark.type
  return placed({ left, right, top: top + size * 0.1, bottom: bottom - size * (family === "words" ? 0.06 : 0.22) }, at)
}

const overlap = (a: Box, b: Box, least: number): boolean =>
  Math.min(a.right, b.right) - Math.max(a.left, b.left) > least &&
  Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > least

const aroundBoxes = (a: Box, b: Box): Box => ({
  left: Math.min(a.left, b.left),
  right: Math.max(a.right, b.right),
  top: Math.min(a.top, b.top),
  bottom: Math.max(a.bottom, b.bottom),
})
