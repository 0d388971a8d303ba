/** Time to units: one line of time, or several systems that end where perfections do. */
import { NEAR, ruledOf, type Axis, type TimeVoice } from "../../../drawing/index.js"
import type { StripPlan } from "./plan.js"

/** No unit of time is wider than this many times what it needs. */
const WIDEST = 3

export interface AxisRoom {
  readonly left: number
  readonly width: number
  /** However wide a unit of time becomes. */
  readonly filled?: boolean
}

/** Undefined where even one perfection is wider than the room. */
/** A line of time, and whether the piece ends where it does. */
export type StripAxis = Axis & { readonly ends: boolean }

export function axesOf(
  { passage, voices, lead, least }: StripPlan,
  room: AxisRoom,
  systems: number,
): StripAxis[] | undefined {
  const { from, to } = passage
  const left = room.left + lead
  const inner = room.width - lead
  const cuts =
    systems === 1
      ? [from, to]
      : cutsOf(
          passage.voices,
          from,
          to,
          systems,
        )
  if (!cuts) return undefined
  const parts = cuts.slice(1).map((end, i) => [cuts[i]!, end] as const)
  const longest = Math.max(...parts.map(([start, end]) => end - start))
  if (longest * least > inner + 0.5) return undefined
  const scale = Math.min(inner / longest, least * (room.filled ? Infinity : WIDEST))
  return parts.map(([start, end], i) => ({
    from: start,
    to: end,
    left,
    right: left + (end - start) * scale,
    scale,
    lead,
    clear: 0,
    nameSize: 36,
    step: 1,
    first: i === 0,
    last: i === parts.length - 1,
    // nothing goes on behind it
    ends: i === parts.length - 1 && to >= passage.whole - NEAR,
  }))
}

/**
 * Moments that part the time into so many lines of about one length, the ends included. A line ends where all voices begin a
 * perfection, or at least the first does, and if it can be where no note sounds on.
 */
export function cutsOf(voices: readonly TimeVoice[], from: number, to: number, systems: number): number[] | undefined {
  const candidates = momentsToCut(voices, from, to, systems - 1)
  if (!candidates) return undefined
  const cuts = [from]
  for (let n = 1; n < systems; n++) {
    const aim = from + ((to - from) * n) / systems
    const open = candidates.filter(at => at > cuts.at(-1)! + NEAR)
    if (open.length === 0) return undefined
    cuts.push(open.reduce((best, at) => (Math.abs(at - aim) < Math.abs(best - aim) ? at : best)))
  }
  return [...cuts, to]
}

/** The best that there are so many of. */
function momentsToCut(voices: readonly TimeVoice[], from: number, to: number, needed: number): number[] | undefined {
  const begins = voices.map(voice =>
    ruledOf(voice, to)
      .pillars.map(({ at }) => at)
      .filter(at => at > from + NEAR && at < to - NEAR),
  )
  const [first = [], ...others] = begins
  const shared = first.filter(at => others.every(own => own.some(other => Math.abs(other - at) < NEAR)))
  const sounds = (at: number) =>
    voices.some(({ signs }) => signs.some(one => one.at < at - NEAR && one.at + one.lasts > at + NEAR))
  const clean = (all: readonly number[]) => all.filter(at => !sounds(at))
  return [clean(shared), clean(first), shared, first].find(all => all.length >= needed)
}
