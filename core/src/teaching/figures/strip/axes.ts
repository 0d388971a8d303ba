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

/** A line of time, and whether the piece ends where it does. */
export type StripAxis = Axis & { readonly ends: boolean }

/** Undefined where a line is wider than the room. `within`: lines may end inside perfections. */
export function axesOf(
  { passage, lead, least }: StripPlan,
  room: AxisRoom,
  systems: number,
  within = false,
): StripAxis[] | undefined {
  const { from, to } = passage
  const left = room.left + lead
  const inner = room.width - lead
  const cuts = systems === 1 ? [from, to] : cutsOf(passage.voices, from, to, systems, within)
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
    wider: 1,
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
export function cutsOf(
  voices: readonly TimeVoice[],
  from: number,
  to: number,
  systems: number,
  within = false,
): number[] | undefined {
  const kinds = within ? beginnings(voices, from, to) : cutMoments(voices, from, to)
  const candidates = kinds.find(all => all.length >= systems - 1)
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

/** Where all voices begin a note or rest, and where any does. */
function beginnings(voices: readonly TimeVoice[], from: number, to: number): number[][] {
  const own = voices.map(({ signs }) => signs.map(({ at }) => at).filter(at => at > from + NEAR && at < to - NEAR))
  const all = [...new Set(own.flat())]
    .sort((a, b) => a - b)
    .filter((at, i, sorted) => at - (sorted[i - 1] ?? -1) > NEAR)
  const shared = all.filter(at => own.every(starts => starts.some(other => Math.abs(other - at) < NEAR)))
  return [shared, all]
}

/**
 * Where lines may end, best first: where all voices begin a perfection and no note sounds on, where the first does so, where all
 * begin one, and the first.
 */
export function cutMoments(voices: readonly TimeVoice[], from: number, to: number): number[][] {
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
  return [clean(shared), clean(first), shared, first]
}
