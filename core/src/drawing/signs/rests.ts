/** Rests at their true length, dots, and strokes that are no rests. */
import { toNumber } from "../../base/index.js"
import type { Dot, Rest, Stroke } from "../../page/index.js"
import type { Mark, Path } from "../scene/scene.js"
import { HIGHEST, LOWEST, drawn, inked, within, yOf, type Drawn, type SignStyle } from "./drawn.js"
import { inkOf } from "./heads.js"
import { fermataOver } from "./notes.js"
import { circleOutline, moved, rectOutline, straightStroke, uprightStroke } from "./outline.js"
import { remembering } from "./remembered.js"
import { ring } from "./signa.js"

/** The broad pen of a rest, and the one of strokes that are not counted. */
export const REST_WIDTH = 0.24
const THIN = 0.14

/** Spaces that a rest of a level covers when its stroke was not recorded. Of the long's the shorter one: no mensuration is assumed. */
const SPACES = {
  maxima: 2,
  longa: 2,
  brevis: 1,
  semibrevis: 0.5,
  minima: 0.5,
  semiminima: 0.5,
  fusa: 0.5,
  semifusa: 0.5,
}
const HOOKS = { maxima: 0, longa: 0, brevis: 0, semibrevis: 0, minima: 0, semiminima: 1, fusa: 2, semifusa: 3 }

/**
 * `loc` is the line that the stroke begins from: it hangs from it when shorter than a space (a semibreve's), stands on it as a
 * minim's or a longer one's.
 */
export function drawRest(rest: Rest, style: SignStyle): Drawn {
  const level = rest.level ?? "brevis"
  const spaces = rest.spaces === undefined ? SPACES[level] : within(toNumber(rest.spaces), 0.1)
  const stands = spaces >= 1 || (rest.level !== undefined && SPACES[level] < 1 && level !== "semibrevis")
  const from = yOf(within(rest.loc ?? usualLine(spaces, style.lines), LOWEST, HIGHEST))
  const more = Math.max(0, HOOKS[level] - 1) * HOOK_STEP
  const to = stands ? from - spaces - more : from + spaces
  const strokes = rest.level === "maxima" && rest.spaces === undefined ? [0, 0.6] : [0]
  const path: Path = [
    ...strokes.flatMap(x => rectOutline(x, Math.min(from, to), x + REST_WIDTH, Math.max(from, to))),
    ...hooks(HOOKS[level], to),
  ]
  const body = drawn([inked("rest", path)]).box
  const { role } = inkOf(rest.coloration, false)
  return drawn([inked("rest", path, role), ...fermataOver(rest, body, style)], body)
}

/** In the middle of the staff, on a line; long strokes cover whole spaces between lines. */
function usualLine(spaces: number, lines: number): number {
  if (spaces < 1) return 2 * Math.floor((lines - 1) / 2)
  return 2 * Math.max(0, Math.ceil((lines - 1 - Math.ceil(spaces)) / 2))
}

/** A hook to the right of the head of a rest. */
const HOOK: Path = [["M", 0, 0], ["C", 0.2, 0.1, 0.42, 0.08, 0.56, -0.12], ["C", 0.66, 0.16, 0.4, 0.36, 0, 0.27], ["Z"]]
const HOOK_STEP = 0.42
const hooks = (count: number, top: number): Path =>
  Array.from({ length: count }, (_, i) => moved(HOOK, REST_WIDTH - 0.02, top + i * HOOK_STEP)).flat()

export const DOT_RADIUS = 0.2

/**
 * A dot beside the position of the note before it. Without a height of its own it stands in a space: a note's on a line takes
 * the space above.
 */
export function drawDot(dot: Dot, position: number): Drawn {
  const at = within(dot.loc ?? (position % 2 === 0 ? position + 1 : position), LOWEST, HIGHEST)
  const hollow = dot.form !== undefined && /void|hollow/.test(dot.form)
  return rememberedDot(`${at} ${hollow}`, () => {
    const y = yOf(at)
    const path = hollow ? ring(DOT_RADIUS, y, DOT_RADIUS, 0.09) : circleOutline(DOT_RADIUS, y, DOT_RADIUS)
    return drawn([inked("dot", path)])
  })
}
const rememberedDot = remembering()

/** Strokes that part: where they stand and how long they are is what tells them from rests. */
export function drawStroke(stroke: Stroke, { lines }: SignStyle): Drawn {
  const top = yOf(2 * (lines - 1))
  return drawn([
    strokeMark(stroke, top, stroke.loc === undefined ? undefined : yOf(within(stroke.loc, LOWEST, HIGHEST))),
  ])
}

function strokeMark({ form, length: given }: Stroke, top: number, y: number | undefined): Mark {
  const length = given === undefined ? undefined : within(given)
  switch (form) {
    case "divisio-modi":
    case "signum-perfectionis":
      return slanting(y ?? 0.1, length ?? 0.9)
    case "divisio-syllabarum":
      return slanting(y ?? top + 0.6, length ?? 0.9)
    case "suspirium":
      return upright(y ?? top / 2 + (length ?? 0.9) / 2, length ?? 0.9)
    case "signum-rotundum":
      return inked("stroke", ring(0.24, y ?? -0.5, 0.24, 0.1))
    case "finis-punctorum":
      return inked("finis", [
        ...uprightStroke(0, 0.12, top - 0.12, { width: THIN, tip: THIN, edge: "left" }),
        ...uprightStroke(0.34, 0.12, top - 0.12, { width: THIN, tip: THIN, edge: "left" }),
      ])
    case "bar":
      return inked(
        "bar",
        uprightStroke(0, y ?? 0.05, (y ?? 0) + (length === undefined ? top : -length) - 0.05, {
          width: THIN,
          tip: THIN,
          edge: "left",
        }),
      )
  }
}

/** Falls from right to left, its foot at y. */
const slanting = (y: number, length: number): Mark =>
  inked("stroke", straightStroke(0.06, y, 0.06 + length * 0.35, y - length * 0.94, 0.15, 0.11))
const upright = (y: number, length: number): Mark =>
  inked("stroke", uprightStroke(0, y, y - length, { width: THIN, tip: THIN * 0.8, edge: "left" }))
