/**
 * How voices are set against each other, by practice. What is asked at the beginnings of perfections is taught at all
 * times (Ars cantus mensurabilis, c. 1280, IX); how free the rest is, by common practice as the handbooks sum it up:
 * until about 1315 anything may stand within a perfection; in the fourteenth century semibreves mostly agree and minims
 * pass freely, rather by step; in the fifteenth a discord passes by step on a small note off the beat, or is suspended:
 * held from a concord, it resolves a step downward.
 */
import type { LawfulPractice } from "../../reading/testing/kinds.js"

export interface Manner {
  /** Semitones, less whole octaves. */
  readonly concords: ReadonlySet<number>
  /** Chance that concord is looked for: where a perfection begins, where a larger unit does, elsewhere. */
  readonly sought: readonly [perfection: number, unit: number, small: number]
  /** How little a clash between upper voices is liked, beside one with the lowest. */
  readonly upper: number
  /** How little a discord is liked, where none is forbidden, that is leapt to. */
  readonly leapt: number
  /** Where concord is looked for, discords may pass by step and be suspended. */
  readonly passing: boolean
  /** Ways for all voices that begin together, of which the best is taken. */
  readonly tries: number
}

/** Unison, thirds, fourth, fifth; from the fourteenth century on sixths in place of the fourth. */
const OLD: ReadonlySet<number> = new Set([0, 3, 4, 5, 7])
const LATER: ReadonlySet<number> = new Set([0, 3, 4, 7, 8, 9])

const THIRTEENTH: Manner = { concords: OLD, sought: [0.91, 0.5, 0.1], upper: 0.6, leapt: 0, passing: false, tries: 1 }
const FOURTEENTH: Manner = {
  concords: LATER,
  sought: [0.93, 0.65, 0.25],
  upper: 2,
  leapt: 1.2,
  passing: false,
  tries: 1,
}
const FIFTEENTH: Manner = { concords: LATER, sought: [1, 1, 1], upper: 9, leapt: 0, passing: true, tries: 8 }

export const MANNERS: Readonly<Record<LawfulPractice, Manner>> = {
  "ars-antiqua": THIRTEENTH,
  "divided-breves": THIRTEENTH,
  "ars-nova-early": FOURTEENTH,
  "ars-nova": FOURTEENTH,
  white: FIFTEENTH,
}
