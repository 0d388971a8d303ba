/** Where perfections begin in a voice, at every level that matters, and the ground that changes with them. */
import { toNumber } from "../../base/index.js"
import { divisionsOf } from "../../reading/index.js"
import type { TimedSpan } from "./divisions.js"
import { firstFrom, NEAR, type TimeVoice } from "./timeline.js"

/** "larger": a perfect level above the smallest one. "twofold": a grouping in two. "edge": the beginning, and the final. */
export type PillarKind = "edge" | "larger" | "perfection" | "twofold"
export interface Pillar {
  readonly at: number
  readonly kind: PillarKind
}
export interface Ground {
  /** Where it begins, as `from`: for finding it. */
  readonly at: number
  readonly from: number
  readonly to: number
}
export interface Ruled {
  /** In the order of time. */
  readonly pillars: readonly Pillar[]
  /** Those perfections that have the other ground. */
  readonly alternate: readonly Ground[]
}

interface Levels {
  /** From one change of the ground to the next. */
  readonly base: number
  readonly perfect: boolean
  readonly larger: readonly number[]
  readonly twofold?: number
}

/**
 * The smallest perfect level makes the ground and its pillars; larger perfect ones are drawn heavier. Where no level up to the
 * breve is perfect, breves are parted by dotted pillars.
 */
export function levelsOf({ span, unit: counted, scale }: TimedSpan): Levels {
  const unit = toNumber(scale)
  let size = unit
  const sizes = divisionsOf(span, counted).map(({ level, parts }) => ({ level, parts, size: (size *= parts) }))
  const perfect = sizes.filter(({ parts }) => parts === 3)
  const breve = sizes.find(({ level }) => level === "brevis") ?? sizes[0]!
  const smallest = perfect[0]
  if (!smallest) return { base: breve.size, perfect: false, larger: [] }
  const larger = perfect.slice(1).map(one => one.size)
  const dotted = breve.size < smallest.size ? { twofold: breve.size } : {}
  return { base: smallest.size, perfect: true, larger, ...dotted }
}

/** Up to `end`, where the picture ends. A final is held freely: nothing is ruled behind its beginning. */
export function ruledOf({ spans, finalAt }: Pick<TimeVoice, "spans" | "finalAt">, end: number): Ruled {
  const last = Math.min(finalAt, end)
  const pillars: Pillar[] = []
  const alternate: Ground[] = []
  let other = false
  spans.forEach((timed, i) => {
    const until = Math.min(spans[i + 1]?.at ?? Infinity, last)
    const levels = levelsOf(timed)
    if (levels.base <= 0) return
    for (let n = 0; timed.at + n * levels.base < until - NEAR; n++) {
      const from = timed.at + n * levels.base
      const to = Math.min(from + levels.base, until)
      pillars.push({ at: from, kind: kindAt(n * levels.base, levels, from === 0) })
      pillars.push(...dottedIn(from, to, levels))
      if (other) alternate.push({ at: from, from, to })
      other = !other
    }
  })
  if (finalAt < end - NEAR) {
    pillars.push({ at: finalAt, kind: "edge" })
    if (other) alternate.push({ at: finalAt, from: finalAt, to: end })
  }
  return { pillars, alternate }
}

function kindAt(offset: number, { larger, perfect }: Levels, first: boolean): PillarKind {
  if (first) return "edge"
  if (larger.some(size => isMultiple(offset, size))) return "larger"
  return perfect ? "perfection" : "twofold"
}

const isMultiple = (offset: number, size: number): boolean => Math.abs(offset / size - Math.round(offset / size)) < NEAR

function dottedIn(from: number, to: number, { twofold }: Levels): Pillar[] {
  const pillars: Pillar[] = []
  if (twofold !== undefined)
    for (let at = from + twofold; at < to - NEAR; at += twofold) pillars.push({ at, kind: "twofold" })
  return pillars
}

/** The same moment, for looking it up. */
export const momentKey = (at: number): number => Math.round(at / NEAR)

/** The pillars of a stretch, and whether its first ground is the other one: put to a list of what is drawn. */
export function pillarsIn(
  { pillars, alternate }: Ruled,
  { from, to }: { from: number; to: number },
  list: unknown[],
): void {
  for (let i = firstFrom(pillars, from); i < pillars.length && pillars[i]!.at <= to + NEAR; i++)
    list.push(pillars[i]!.at, pillars[i]!.kind)
  // grounds follow one another: only the last that begins before can reach into it
  for (let i = Math.max(0, firstFrom(alternate, from) - 1); i < alternate.length && alternate[i]!.from < to; i++)
    if (alternate[i]!.to > from) list.push(alternate[i]!.from, alternate[i]!.to)
}
