/** Stems, tails, flags and the strokes of a plica, in staff spaces. */
import type { Level, Note, Plica, Stem } from "../../page/index.js"
import type { Box, Path, PathStep } from "../scene/scene.js"
import { within } from "./drawn.js"
import { moved, straightStroke, uprightStroke } from "./outline.js"
import { LOZENGE_HEIGHT } from "./heads.js"

/** The head that strokes are put to. */
export interface Bearer {
  readonly body: Box
  /** Middle of the head. */
  readonly y: number
  readonly lozenge: boolean
  /** A stroke must not enter the hole of a void head. */
  readonly hollow: boolean
}

/** How far stems reach beyond the edge of a square head, and beyond the tip of a lozenge. */
export const LONG_STEM = 2.4
export const MINIM_STEM = 2.5
const LIGATURE_STEM = 1.9
/** The pen's width in stems of square heads and at foot and tip of a minim's. */
const STEM_WIDTH = 0.13
const MINIM_FOOT = 0.16
const MINIM_TIP = 0.11
const TAIL = 1.5

const LOZENGES: readonly Level[] = ["semibrevis", "minima", "semiminima", "fusa", "semifusa"]
export const isLozenge = (level: Level): boolean => LOZENGES.includes(level)

/** The stems that are to be drawn: those recorded, or the one that the shape has by itself. */
export function stemsOf(note: Note, level: Level): readonly Stem[] {
  if (note.shape === "dragma" && note.stems.length === 0) return [{ direction: "up" }, { direction: "down" }]
  const ordinary = ordinaryStem(note, level)
  if (ordinary === undefined || note.stems.some(stem => isUpright(stem))) return note.stems
  return [ordinary, ...note.stems]
}

function ordinaryStem({ plica }: Note, level: Level): Stem | undefined {
  if (level === "maxima" || level === "longa")
    return plica === undefined ? { direction: "down", position: "right" } : undefined
  if (level === "brevis" || level === "semibrevis") return undefined
  return { direction: "up", position: "center" }
}
const isUpright = ({ direction }: Stem): boolean => direction === "up" || direction === "down"

export function stemPath(stem: Stem, head: Bearer, inLigature = false): Path {
  switch (stem.direction) {
    case "up":
    case "down":
      return uprightStem(stem, stem.direction === "up" ? -1 : 1, head, inLigature)
    case "left":
      return straightStroke(head.body.left + 0.1, head.y, head.body.left - tailLength(stem), head.y, STEM_WIDTH)
    case "right":
      return straightStroke(head.body.right - 0.1, head.y, head.body.right + tailLength(stem), head.y, STEM_WIDTH)
    default:
      return tail(stem, head)
  }
}

/** Where an upright stem ends: what flags hang on. */
export function stemTip(stem: Stem, head: Bearer, inLigature = false): readonly [x: number, y: number] {
  const side = stem.direction === "up" ? -1 : 1
  return [stemX(stem, head), edgeY(head, side) + side * stemLength(stem, head, inLigature)]
}

const stemLength = (stem: Stem, head: Bearer, inLigature: boolean): number =>
  within(stem.length ?? (inLigature ? LIGATURE_STEM : head.lozenge ? MINIM_STEM : LONG_STEM))
const edgeY = (head: Bearer, side: -1 | 1): number => head.y + side * (head.lozenge ? LOZENGE_HEIGHT / 2 : 0.5)

const tailLength = (stem: Stem): number => within(stem.length ?? TAIL)

function placeOf(stem: Stem, head: Bearer): "left" | "middle" | "right" {
  const { position } = stem
  if (head.lozenge) return "middle"
  return position === "center" ? "middle" : (position ?? "right")
}

function stemX(stem: Stem, head: Bearer): number {
  const { left, right } = head.body
  return { left, middle: (left + right) / 2, right }[placeOf(stem, head)]
}

function uprightStem(stem: Stem, side: -1 | 1, head: Bearer, inLigature: boolean): Path {
  const x = stemX(stem, head)
  const end = edgeY(head, side) + side * stemLength(stem, head, inLigature)
  if (head.lozenge) {
    const foot = edgeY(head, side) - side * (head.hollow ? 0.16 : 0.3)
    return uprightStroke(x, foot, end, { width: MINIM_FOOT, tip: MINIM_TIP })
  }
  const edge = placeOf(stem, head)
  // at the side it grows out of the side's own line; under the middle only out of the lower edge
  const foot = edge === "middle" ? head.y + side * 0.4 : head.y
  return uprightStroke(x, foot, end, { width: STEM_WIDTH, tip: STEM_WIDTH * 0.85, edge })
}

/** A slanting tail, from the tip or corner of the head that lies in its direction. */
function tail(stem: Stem, head: Bearer): Path {
  const [dx, dy] = [stem.direction.endsWith("e") ? 1 : -1, stem.direction.startsWith("s") ? 1 : -1]
  const { left, right } = head.body
  const middle = (left + right) / 2
  const x = head.lozenge ? middle : dx > 0 ? right - 0.1 : left + 0.1
  const y = head.y + dy * (head.lozenge ? LOZENGE_HEIGHT / 2 - 0.16 : 0.42)
  const reach = tailLength(stem) * Math.SQRT1_2
  return straightStroke(x, y, x + dx * reach * 0.8, y + dy * reach * 1.2, 0.17, 0.07)
}

/** One flag to the right of the tip of an upward stem. It leaves the stem broad and ends in a hair. */
const FLAG: Path = [
  ["M", -0.05, 0],
  ["C", 0.1, 0.42, 0.72, 0.5, 0.6, 1.25],
  ["C", 0.56, 0.86, 0.3, 0.68, -0.05, 0.62],
  ["Z"],
]
/** Broad at its end: a stroke that the pen opens. */
const FLARED: Path = [
  ["M", -0.05, 0],
  ["C", 0.16, 0.3, 0.46, 0.42, 0.86, 0.5],
  ["L", 0.72, 1.02],
  ["C", 0.46, 0.72, 0.2, 0.52, -0.05, 0.36],
  ["Z"],
]
/** Begun on the other side of the stem. */
const EXTENDED: Path = [
  ["M", -0.5, -0.3],
  ["C", -0.2, 0.2, 0.72, 0.34, 0.64, 1.15],
  ["C", 0.52, 0.72, -0.1, 0.5, -0.56, -0.2],
  ["Z"],
]
/** The same bent back to the stem. */
const LOOP: Path = [
  ["M", -0.05, 0],
  ["C", 0.35, 0.05, 0.75, 0.25, 0.75, 0.62],
  ["C", 0.75, 0.98, 0.35, 1.12, 0, 1.14],
  ["L", 0, 1.02],
  ["C", 0.3, 0.98, 0.56, 0.86, 0.56, 0.62],
  ["C", 0.56, 0.44, 0.3, 0.36, -0.05, 0.38],
  ["Z"],
]
/** From one flag to the next. */
const FLAG_STEP = 0.55

export function flagPaths(stem: Stem, head: Bearer, count: number, inLigature = false): Path {
  const [x, y] = stemTip(stem, head, inLigature)
  const down = stem.direction === "down" ? 1 : -1
  const shape = flagShape(stem.flag?.form ?? "")
  const toLeft = stem.flag?.position === "left"
  const steps: PathStep[] = []
  for (let i = 0; i < count; i++)
    steps.push(...moved(shape, x, y - down * (0.04 + i * FLAG_STEP), toLeft ? -1 : 1, -down))
  return steps
}

function flagShape(form: string): Path {
  if (/loop|hook/.test(form)) return LOOP
  if (/flare/.test(form)) return FLARED
  return /extend/.test(form) ? EXTENDED : FLAG
}

/**
 * The strokes of a plica. Rising or falling alike: at a long the right stroke is the longer of the two, at a breve the left one;
 * a single stroke stands at the right. (Ars cantus mensurabilis, c. 1280, VI.)
 */
export function plicaPaths(
  { direction = "up", strokes, length }: Plica,
  level: Level,
  head: Bearer,
  last = false,
): Path {
  const side = direction === "up" ? -1 : 1
  const isLong = level === "longa" || level === "maxima"
  const longer = within(length ?? (isLong ? LONG_STEM : LONG_STEM * 0.72))
  const shorter = Math.min(longer * 0.5, 1.1)
  const both = !last && (strokes ?? 2) === 2
  const right = both && !isLong ? shorter : longer
  const left = isLong ? shorter : longer
  const edge = head.y + side * 0.5
  const stroke = (x: number, reach: number, at: "left" | "right") =>
    uprightStroke(x, head.y, edge + side * reach, { width: STEM_WIDTH, tip: 0.09, edge: at })
  return [...stroke(head.body.right, right, "right"), ...(both ? stroke(head.body.left, left, "left") : [])]
}
