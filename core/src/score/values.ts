/** Modern note values: from the score's unit to whole notes, and from whole notes to signs with dots. */
import { over, ratio, times, type Rational } from "../base/index.js"
import type { Score } from "./types.js"

/** How written durations become modern ones. */
export interface ValueOptions {
  /** 4 means 1:4: a written minim, in its later sense a half note, becomes an eighth. Any power of two from 1 to 32. */
  readonly reduction?: number
}

/** Usual reductions by practice; see `usualReduction`. */
const REDUCTIONS: Readonly<Record<string, number>> = {
  modal: 16,
  "ars-antiqua": 8,
  "ars-nova": 4,
  trecento: 4,
  "ars-subtilior": 4,
  white: 2,
}

/** 1:16 for modal music, 1:8 (brevis = quarter) for Ars antiqua, 1:2 (minim = quarter) for white notation, else 1:4. */
export function usualReduction(practice: string): number {
  return REDUCTIONS[practice] ?? 4
}

/**
 * What one unit of the score becomes, in whole notes. Unreduced, a tempus (one recta breve) is two and a minim half a
 * whole note. A proportion that all voices share from the start is cancelled.
 */
export function wholesPerUnit(score: Score, options: ValueOptions = {}): Rational {
  const reduction = options.reduction ?? usualReduction(score.practice)
  if (![1, 2, 4, 8, 16, 32].includes(reduction))
    throw new RangeError(`reduction ${reduction}: it must be 1, 2, 4, 8, 16 or 32`)
  const written = score.unit === "tempus" ? ratio(2) : ratio(1, 2)
  return times(over(written, ratio(reduction)), score.sharedProportion)
}

/** As MEI names it: "breve" is two whole notes, "4" a quarter. */
export type ModernDur = string
export interface ModernValue {
  readonly dur: ModernDur
  readonly dots: 0 | 1
}

export function isPowerOfTwo(n: number): boolean {
  return Number.isInteger(Math.log2(n))
}
/** It can be reached by halving whole notes: no tuplet is needed. */
export function isDyadic(wholes: Rational): boolean {
  return isPowerOfTwo(wholes.den)
}

const SHORTEST = 2048

/** The one sign, plain or dotted, that lasts so many whole notes; undefined where it takes more than one. */
export function modernValue(wholes: Rational): ModernValue | undefined {
  if (wholes.num <= 0 || !isDyadic(wholes) || wholes.den > SHORTEST) return undefined
  if (isPowerOfTwo(wholes.num)) return named(wholes, 0)
  return wholes.num % 3 === 0 && isPowerOfTwo(wholes.num / 3) ? named(over(wholes, ratio(3, 2)), 1) : undefined
}

function named(plain: Rational, dots: 0 | 1): ModernValue | undefined {
  if (plain.den > SHORTEST || plain.num > 2) return undefined
  return { dur: plain.num === 2 ? "breve" : String(plain.den), dots }
}
