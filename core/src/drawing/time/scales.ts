/** How wide a unit of time is in each system: one scale for all, or for all but a few, or each its own. */
import { NEAR } from "./timeline.js"

/** A part of the axis in one line. */
export interface System {
  readonly from: number
  readonly to: number
}
export interface ScaledSystem extends System {
  /** Px in a unit. */
  readonly scale: number
}

/** A system by itself is not drawn out further than this beyond what it needs. */
const WIDEST = 2.6
/** The last system may be so much wider than it needs, or than the one before, so as to end at the same margin. */
const FILLED = 1.35

export function scaledTo(room: number, systems: readonly Needing[], range: System): ScaledSystem[] {
  const scaled: ScaledSystem[] = []
  for (const { from, to, need } of systems) {
    const full = room / (to - from)
    const before = scaled.at(-1)
    const most = before === undefined ? need * WIDEST : Math.max(need, before.scale) * FILLED
    scaled.push({ from, to, scale: to >= range.to ? Math.min(full, most) : full })
  }
  return scaled
}

export interface Needing extends System {
  /** Px that a unit has to have. */
  readonly need: number
}

/**
 * Where one scale for all would take too many systems, those few of the systems that need most are left out of it: so many of
 * them, in parts of their number.
 */
const LEFT_OUT = [0, 0.06, 0.12, 0.2, 0.3, 0.45, 0.6] as const

/** Px in a unit that could be common to all systems, or to all but those few that need most; the largest first. */
export function commonScales(systems: readonly Needing[]): number[] {
  const needs = systems.map(one => one.need).sort((a, b) => b - a)
  return [...new Set(LEFT_OUT.map(part => needs[Math.floor(part * needs.length)]!))]
}

const fullScale = ({ from, to }: System, room: number): number => room / (to - from)

/** The same for all that can do with it, as wide as their longest allows; a system that needs more fills the picture by itself. */
export function commonTo(room: number, systems: readonly Needing[], least: number): ScaledSystem[] | undefined {
  let common = Math.min(...systems.filter(one => one.need <= least + NEAR).map(one => fullScale(one, room)))
  for (let longer: Needing | undefined; ; common = fullScale(longer, room)) {
    longer = systems.find(one => one.need <= common && fullScale(one, room) < common - NEAR)
    if (!longer) break
  }
  // what is too wide even by itself
  if (common < least - NEAR) return undefined
  const ownOf = (one: Needing, i: number) =>
    i < systems.length - 1 ? fullScale(one, room) : Math.min(fullScale(one, room), one.need * FILLED)
  return systems.map((one, i) => ({
    from: one.from,
    to: one.to,
    scale: one.need <= common + NEAR ? common : ownOf(one, i),
  }))
}
