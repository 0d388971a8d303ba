/** The largest strip that fits a room: staff spaces are tried from large to small, systems from one to as many as have room. */
import type { Passage } from "../passage.js"
import { axesOf } from "./axes.js"
import { RUBRIC_ROOM } from "../letters.js"
import { drawStrip, type Strip } from "./draw.js"
import { stripLook, type Rows, type StripLook } from "./look.js"
import { planStrip, type StripPlan } from "./plan.js"

export interface StripRoom {
  readonly left: number
  readonly top: number
  readonly width: number
  /** Infinity where the figure may be as high as it has to be. */
  readonly height: number
  /** For a figure of any height: no picture of a passage is higher. */
  readonly most?: number
  /** One of several pictures of one passage: all are filled. */
  readonly filled?: boolean
}

export interface FittedStrip {
  readonly strip: Strip
  readonly plan: StripPlan
  readonly look: StripLook
  readonly fits: boolean
}

const SPACES = [40, 37, 34, 31, 28, 26, 24, 22, 20, 18, 16, 14]
/** Where there is more width than height, one line is better than two with signs larger by less than this. */
const ONE_LINE = 1.35

export function fitStrip(passage: Passage, rows: Rows, room: StripRoom, largest = 40): FittedStrip {
  const spaces = spacesIn(room, largest)
  const least = fitAt(passage, rows, room, spaces.at(-1)!)
  if (!least?.fits) return least ?? smallest(passage, rows, room)
  let best = least
  let worth = worthOf(least, room)
  for (const space of spaces.slice(0, -1)) {
    // what is smaller is worth less, even in one line
    if (space * ONE_LINE <= worth) break
    const fitted = fitAt(passage, rows, room, space)
    if (fitted?.fits && worthOf(fitted, room) > worth) [best, worth] = [fitted, worthOf(fitted, room)]
  }
  return best
}

/** With the smallest signs: passages that are groups of voices over the same stretch of time. */
export const fitsAtAll = (groups: readonly Passage[], rows: Rows, room: StripRoom): boolean =>
  fitTogether(groups, rows, room, SPACES.at(-1)!) !== undefined

/**
 * Several pictures, all with the largest staff space at which every one of them fits; undefined where there is none. Those of one
 * stretch of time have the same scale and begin at the same place.
 */
export function fitStrips(
  stretches: readonly (readonly Passage[])[],
  rows: Rows,
  room: StripRoom,
): FittedStrip[] | undefined {
  const spaces = spacesIn(room, 40)
  const allAt = (space: number): FittedStrip[] | undefined => {
    const fitted: FittedStrip[] = []
    for (const groups of stretches) {
      const some = fitTogether(groups, rows, room, space)
      if (!some) return undefined
      fitted.push(...some)
    }
    return fitted
  }
  const least = allAt(spaces.at(-1)!)
  if (!least) return undefined
  for (const space of spaces.slice(0, -1)) {
    const fitted = allAt(space)
    if (fitted) return fitted
  }
  return least
}

/** A figure of any height has signs of a middle size. */
const spacesIn = ({ height }: StripRoom, largest: number): number[] =>
  SPACES.filter(one => one <= (Number.isFinite(height) ? largest : Math.min(largest, 28)))

const worthOf = ({ look, strip }: FittedStrip, room: StripRoom): number =>
  look.space * (strip.systems.length === 1 && room.height < room.width ? ONE_LINE : 1)

const MOST_SYSTEMS = 8

const fitAt = (passage: Passage, rows: Rows, room: StripRoom, space: number): FittedStrip | undefined =>
  fitPlan(planStrip(passage, stripLook(space, rows)), room)

function fitTogether(
  groups: readonly Passage[],
  rows: Rows,
  room: StripRoom,
  space: number,
): FittedStrip[] | undefined {
  const look = stripLook(space, rows)
  const plans = groups.map(one => planStrip(one, look))
  const lead = Math.max(...plans.map(one => one.lead))
  const least = Math.max(...plans.map(one => one.least))
  const fitted: FittedStrip[] = []
  for (const plan of plans) {
    const one = fitPlan({ ...plan, lead, least }, room)
    if (!one?.fits) return undefined
    fitted.push(one)
  }
  return fitted
}

/** In as few systems as the width allows, inside perfections only where it must be; undefined where a note has no room. */
function fitPlan(plan: StripPlan, room: StripRoom): FittedStrip | undefined {
  const { look } = plan
  const indent = look.rows.rubrics === "left" ? RUBRIC_ROOM : 0
  const place = { left: room.left + indent, width: room.width - indent, filled: room.filled ?? false }
  for (const within of [false, true])
    for (let systems = within ? 2 : 1; systems <= MOST_SYSTEMS; systems++) {
      const axes = axesOf(plan, place, systems, within)
      if (!axes) continue
      const strip = drawStrip(plan, axes, room)
      return { strip, plan, look, fits: strip.bottom - room.top <= Math.min(room.height, room.most ?? Infinity) }
    }
  return undefined
}

/** Signs wider than the room: drawn as they come, over its edge. */
function smallest(passage: Passage, rows: Rows, room: StripRoom): FittedStrip {
  const look = stripLook(SPACES.at(-1)!, rows)
  const plan = { ...planStrip(passage, look), least: 0 }
  const axes = axesOf(plan, room, 1)!
  return { strip: drawStrip(plan, axes, room), plan, look, fits: false }
}
