/** What rules ask of a situation: neighbours, walls, likes, how a note may be taken apart; and which kinds of figure each rule can speak of. */
import type { Counted, Seen, SeenBefore } from "./figures.js"
import { MODUS_LEVEL } from "./levels.js"
import { BREVIS, LONGA, MINIMA, type Mensuration } from "./mensuration.js"
import { type Cost, NOBODY, SHORTENED, type Situation, WHOLE } from "./types.js"

/** A run that nothing follows up: no cost either way. */
const EMPTY_RUN: Counted = { units: 0, alterable: false, startsWithRest: false }

/** The smaller figures that follow, counted in units of `level`. */
export function runAfter(s: Situation, level: number): Counted {
  return s.run(level) ?? EMPTY_RUN
}

/** Whether this level counts perfections. */
export const isPerfectAt = (s: Situation, level: number): boolean => s.mensuration.counts[level] === true

/** A note that the rules of perfection may touch: no rest, no colour that acts, no explicit value, no local shape. */
export const isFreeNote = (f: Seen): boolean =>
  !f.rest && f.colouredTicks === undefined && f.fixed === undefined && !f.localShape

/** A dot or stroke after it parts it from what follows. */
export const walled = (f: SeenBefore | Seen): boolean =>
  f.dot !== undefined || (f.stroke !== undefined && !f.strokeGroup)

/** A smaller figure, sounding or silent, that might take something from it. */
export const smallerFollows = (s: Situation): boolean =>
  s.next !== undefined && s.next.level > s.figure.level && !walled(s.figure)

/** Its like, sounding or silent, follows. A two-breve rest stands for a long here. */
export const likeFollows = (s: Situation): boolean =>
  s.next !== undefined && (s.next.level === s.figure.level || (s.next.duplex && s.figure.level === LONGA))

/** Ticks of a third of a perfect note of `level`. */
export const unitOf = (s: Situation, level: number): number => s.mensuration.full[level + 1]!

/** How the note opens a run at the modus, if it may. */
export const opens = (s: Situation, how: typeof WHOLE | typeof SHORTENED) =>
  s.figure.level === MODUS_LEVEL && isPerfectAt(s, MODUS_LEVEL) && !walled(s.figure) ? how : NOBODY

/** Nothing is owed to what precedes, and no dot lengthens it. */
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
  return !third || s.figure.dotGiven === "perf" || smallerNear(s) || !likeFollows(s)
}

/** A smaller figure stands before or after it: it would imperfect a perfect note, or is counted with the dot of another. */
export function smallerNear(s: Situation): boolean {
  const smaller = (other: Pick<Seen, "level"> | undefined): boolean =>
    other !== undefined && other.level > s.figure.level
  return smaller(s.next) || smaller(s.previous)
}

/** Its dot forbids that it loses anything. */
export const dotLocks = (s: Situation): boolean =>
  s.figure.dot !== undefined && (mayBeDotOfPerfection(s) || s.figure.dotGiven === "aug")

/** A dotted perfect note refuses imperfection; a dot of division after a shortened one is rare (1 : 11) but met. */
const LOCKED = 2.4
export const lockedByDot = (s: Situation): Cost => (s.figure.dot !== undefined && mayBeDotOfPerfection(s) ? LOCKED : 0)

/** What it costs to shorten it from the front although its like follows. */
export function likeCost(s: Situation): Cost {
  if (!likeFollows(s)) return 0
  return s.figure.level === LONGA ? s.weights.likeModus : s.weights.like
}

/** What it costs to carry a unit past the perfection. */
export const carryCost = (s: Situation): Cost => (s.figure.level === LONGA ? s.weights.carryModus : s.weights.carry)

/** What a note loses: its whole third (once at the most), and so many thirds of its parts. */
export interface Loss {
  readonly whole: number
  readonly parts: number
}

/** How many parts at which level make up `amount` lost by a note of `level`; undefined when it cannot be. */
export function partsOf(s: Situation, amount: number): Loss | undefined {
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

/** The price of losing so many parts. */
export const partCost = (s: Situation, parts: number): Cost =>
  parts === 0 ? 0 : s.weights.part + (parts - 1) * s.weights.morePart

// Kinds of figure that a rule can speak of; they look at what RuleTable sorts by, nothing else.

/** Notes that are perfect as a whole or in a part. */
export const wholeGate = (f: Seen, m: Mensuration): boolean => isFreeNote(f) && m.anchor[f.level]! > 0

/** Notes that are perfect as a whole. */
export const perfectGate = (f: Seen, m: Mensuration): boolean => isFreeNote(f) && m.counts[f.level] === true

/** Notes with a part that can be lost; a breve of perfect tempus can lose a minim by option. */
export const partsGate = (f: Seen, m: Mensuration): boolean =>
  isFreeNote(f) && f.level < MINIMA && (m.perfect.some(k => k > f.level) || (f.level === BREVIS && m.counts[BREVIS]!))

/** Notes that are a third of a perfection. */
export const alterableGate = (f: Seen, m: Mensuration): boolean =>
  isFreeNote(f) && f.level > 0 && m.counts[f.level - 1] === true

/** Notes of perfections with a dot or stroke after them. */
export const markedGate = (f: Seen, m: Mensuration): boolean => wholeGate(f, m) && walled(f)

/** Notes that no perfection touches. */
export const imperfectGate = (f: Seen, m: Mensuration): boolean => isFreeNote(f) && m.anchor[f.level] === 0

export const restGate = (f: Seen): boolean => f.rest

export const dottedGate = (f: Seen): boolean => f.dot !== undefined
