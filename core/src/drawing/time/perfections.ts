/** Where perfections begin in a voice, at every level that matters, and the ground that changes with them. */
import { equals, toNumber } from "../../base/index.js"
import { divisionsOf } from "../../reading/index.js"
import type { TimedSpan } from "./divisions.js"
import { sameLevels } from "./same.js"
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
      addDotted(from, to, levels, pillars)
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

/** Those of the same voice in the last layout where they are the same. */
export function ruledAgain(
  time: Pick<TimeVoice, "spans" | "finalAt">,
  end: number,
  before?: { readonly time: Pick<TimeVoice, "spans" | "finalAt">; readonly end: number; readonly ruled: Ruled },
): Ruled {
  const isSame =
    before !== undefined &&
    before.end === end &&
    before.time.finalAt === time.finalAt &&
    before.time.spans.length === time.spans.length &&
    before.time.spans.every((span, i) => sameSpan(span, time.spans[i]!))
  return isSame ? before.ruled : ruledOf(time, end)
}

export const sameSpan = (one: TimedSpan, other: TimedSpan): boolean =>
  one.at === other.at && one.unit === other.unit && equals(one.scale, other.scale) && sameLevels(one.span, other.span)

function kindAt(offset: number, { larger, perfect }: Levels, first: boolean): PillarKind {
  if (first) return "edge"
  if (larger.some(size => isMultiple(offset, size))) return "larger"
  return perfect ? "perfection" : "twofold"
}

const isMultiple = (offset: number, size: number): boolean => Math.abs(offset / size - Math.round(offset / size)) < NEAR

function addDotted(from: number, to: number, { twofold }: Levels, pillars: Pillar[]): void {
  if (twofold === undefined) return
  for (let at = from + twofold; at < to - NEAR; at += twofold) pillars.push({ at, kind: "twofold" })
}

/** The same moment, for looking it up. */
export const momentKey = (at: number): number => Math.round(at / NEAR)

/** Whether a pillar stands at this moment. */
export function hasPillar({ pillars }: Ruled, at: number): boolean {
  const key = momentKey(at)
  for (let i = firstFrom(pillars, at - NEAR); i < pillars.length && momentKey(pillars[i]!.at) <= key; i++)
    if (momentKey(pillars[i]!.at) === key) return true
  return false
}

/** Whether the pillars and the grounds of a stretch are the same. */
export function samePillars(one: Ruled, other: Ruled, { from, to }: { from: number; to: number }): boolean {
  return one === other || (sameIn(one, other, from, to) && sameGrounds(one, other, from, to))
}

function sameIn({ pillars: one }: Ruled, { pillars: other }: Ruled, from: number, to: number): boolean {
  let [i, k] = [firstFrom(one, from), firstFrom(other, from)]
  for (; ; i++, k++) {
    const [a, b] = [upTo(one[i], to), upTo(other[k], to)]
    if (!a || !b) return a === b
    if (a.at !== b.at || a.kind !== b.kind) return false
  }
}
const upTo = (pillar: Pillar | undefined, to: number): Pillar | undefined =>
  pillar && pillar.at <= to + NEAR ? pillar : undefined

function sameGrounds({ alternate: one }: Ruled, { alternate: other }: Ruled, from: number, to: number): boolean {
  const [a, b] = [groundsIn(one, from, to), groundsIn(other, from, to)]
  return a.length === b.length && a.every((ground, i) => ground.from === b[i]!.from && ground.to === b[i]!.to)
}

/** Grounds follow one another: only the last that begins before can reach into it. */
function groundsIn(all: readonly Ground[], from: number, to: number): readonly Ground[] {
  const first = Math.max(0, firstFrom(all, from) - 1)
  let end = first
  while (end < all.length && all[end]!.from < to) end++
  return all.slice(first, end).filter(ground => ground.to > from)
}
