/** What rules ask of a situation: neighbours, walls, likes, how a note may be taken apart; and which kinds of figure each rule can speak of. */
import type { Figure, Run } from "./figures.js"
import { MODUS_LEVEL } from "./levels.js"
import { LONGA, type Mensuration } from "./mensuration.js"
import { NOBODY, SHORTENED, type Situation, WHOLE } from "./types.js"

/** A run that nothing follows up: no cost either way. */
const EMPTY_RUN: Run = { units: 0, alterable: false, startsWithRest: false, until: -1 }

export function runAfter(s: Situation, level: number): Run {
  return s.figure.runs[level] ?? EMPTY_RUN
}

export const isPerfectAt = (s: Situation, level: number): boolean => s.mensuration.counts[level] === true

/** A note that the rules of perfection may touch: no rest, no colour that acts, no explicit value, no local shape. */
export const isFreeNote = (f: Figure): boolean =>
  !f.rest && f.colouredTicks === undefined && f.fixed === undefined && !f.localShape

export const walled = (f: Figure): boolean => f.dot !== undefined || (f.stroke !== undefined && !f.strokeGroup)

export const smallerFollows = (s: Situation): boolean =>
  s.next !== undefined && s.next.level > s.figure.level && !walled(s.figure)

/** Its like, sounding or silent, follows. A two-breve rest stands for a long here. */
export const likeFollows = (s: Situation): boolean =>
  s.next !== undefined && (s.next.level === s.figure.level || (s.next.duplex && s.figure.level === LONGA))

export const unitOf = (s: Situation, level: number): number => s.mensuration.full[level + 1]!

export const opens = (s: Situation, how: typeof WHOLE | typeof SHORTENED) =>
  s.figure.level === MODUS_LEVEL && isPerfectAt(s, MODUS_LEVEL) && !walled(s.figure) ? how : NOBODY

export const mayBeWhole = (s: Situation): boolean =>
  isFreeNote(s.figure) && s.mensuration.anchor[s.figure.level]! > 0 && s.front === 0 && s.figure.dotGiven !== "aug"

/** The dot keeps a naturally perfect note whole (Tractatus super punctis musicalibus, 1470s, 6-10). */
export function mayBeDotOfPerfection(s: Situation): boolean {
  return isPerfectAt(s, s.figure.level) && s.figure.dotGiven !== "aug"
}

/** The dot is, or may be, what keeps the note whole: a neighbour would take a third, or no larger perfection is there to divide. */
export function dotKeepsWhole(s: Situation): boolean {
  if (s.figure.dot === undefined || !mayBeDotOfPerfection(s)) return false
  const third = s.figure.level > 0 && isPerfectAt(s, s.figure.level - 1)
  return !third || neighbourWouldTake(s) || !likeFollows(s)
}

/** A smaller figure next to it would imperfect it but for the dot. */
export function neighbourWouldTake(s: Situation): boolean {
  const level = s.figure.level
  return (s.next !== undefined && s.next.level > level) || (s.previous !== undefined && s.previous.level > level)
}

export const dotLocks = (s: Situation): boolean =>
  s.figure.dot !== undefined && (mayBeDotOfPerfection(s) || s.figure.dotGiven === "aug")

/** A dotted perfect note refuses imperfection; a dot of division after a shortened one is rare but met. */
export const lockedByDot = (s: Situation): number => (s.figure.dot !== undefined && mayBeDotOfPerfection(s) ? 2.4 : 0)

export function likeCost(s: Situation): number {
  if (!likeFollows(s)) return 0
  return s.figure.level === LONGA ? s.weights.likeModus : s.weights.like
}

/** How many parts at which level make up `amount` lost by a note of `level`; undefined when it cannot be. */
export function partsOf(s: Situation, amount: number): { whole: number; parts: number } | undefined {
  const { full, perfect } = s.mensuration
  const level = s.figure.level
  let left = amount
  let whole = 0
  let parts = 0
  let size = full[level]!
  for (const k of perfect) {
    if (k < level) continue
    const unit = full[k + 1]!
    const available = k === level ? 1 : Math.round(size / full[k]!)
    const taken = Math.min(Math.floor(left / unit + 1e-9), available)
    left -= taken * unit
    size -= taken * unit
    if (k === level) whole = taken
    else parts += taken
  }
  return left === 0 ? { whole, parts } : undefined
}

export const partCost = (s: Situation, parts: number): number =>
  parts === 0 ? 0 : s.weights.part + (parts - 1) * s.weights.morePart

/** The next smaller value, or smaller ones, before or after, to be counted with the dot. */
export function companionNear(s: Situation): boolean {
  const smaller = (other: Figure | undefined): boolean => other !== undefined && other.level > s.figure.level
  return smaller(s.next) || smaller(s.previous)
}

/** Kinds of figure that a rule can speak of. */
export const wholeGate = (f: Figure, m: Mensuration): boolean => isFreeNote(f) && m.anchor[f.level]! > 0

export const perfectGate = (f: Figure, m: Mensuration): boolean => isFreeNote(f) && m.counts[f.level] === true

export const partsGate = (f: Figure, m: Mensuration): boolean =>
  isFreeNote(f) && f.level < 4 && (m.perfect.some(k => k > f.level) || (f.level === 2 && m.counts[2] === true))

export const alterableGate = (f: Figure, m: Mensuration): boolean =>
  isFreeNote(f) && f.level > 0 && m.counts[f.level - 1] === true

export const markedGate = (f: Figure, m: Mensuration): boolean => wholeGate(f, m) && walled(f)

export const imperfectGate = (f: Figure, m: Mensuration): boolean => isFreeNote(f) && m.anchor[f.level] === 0

export const restGate = (f: Figure): boolean => f.rest

export const dottedGate = (f: Figure): boolean => f.dot !== undefined
