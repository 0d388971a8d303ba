/** Moments as places in a laid time view, and places as moments: for a playing cursor, and for whoever points at the axis. */
import type { VoiceId } from "../../base/index.js"
import type { LaidSystem, LaidTime } from "./time.js"

/** All in px of the picture. */
export interface MomentPlace {
  /** Number of the system, from 0. */
  readonly system: number
  readonly x: number
  /** Of the system. */
  readonly top: number
  readonly bottom: number
}

/** Where a moment stands, in the score's unit; undefined where it is not shown. Where two systems meet it is the later one's. */
export function xOfMoment({ systems }: LaidTime, moment: number): MomentPlace | undefined {
  const at = systems.findLastIndex(({ system }) => moment >= system.axis.from - NEAR)
  const here = systems[at]
  if (!here || moment > here.system.axis.to + NEAR) return undefined
  const { top } = here
  const { axis, height } = here.system
  return { system: at, x: axis.left + (moment - axis.from) * axis.scale, top, bottom: top + height }
}
const NEAR = 1e-9

export interface PlacedMoment {
  readonly moment: number
  readonly system: number
  /** The voice at that height. */
  readonly voice?: VoiceId
}

/** The moment at a point, in the system nearest to it and within its part of the axis. */
export function momentAt({ systems }: LaidTime, x: number, y: number): PlacedMoment | undefined {
  const far = ({ top, system }: LaidSystem) => Math.max(top - y, 0, y - top - system.height)
  let at = 0
  systems.forEach((one, i) => {
    if (far(one) < far(systems[at]!)) at = i
  })
  const nearest = systems[at]
  if (!nearest) return undefined
  const { top } = nearest
  const { axis, placed } = nearest.system
  const within = Math.min(axis.right, Math.max(axis.left, x))
  const voice = placed.find(one => y - top >= one.top && y - top <= one.bottom)
  const moment = axis.from + (within - axis.left) / axis.scale
  return { moment, system: at, ...(voice ? { voice: voice.formed.time.voice.id } : {}) }
}
