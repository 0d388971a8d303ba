/**
 * How voices are set against each other, by practice. At the beginnings of perfections they agree at all times (De
 * mensurabili musica, c. 1260, XI: the odd notes of a mode are concords; Ars cantus mensurabilis, c. 1280, IX and XI), and
 * a third voice is discordant with one of the others only if it agrees with the other. How free the rest is, is common
 * practice as the handbooks sum it up: until about 1315 much may stand within a perfection; in the fourteenth century
 * semibreves mostly agree and minims pass freely, by step; in the fifteenth a discord passes by step on a small note off
 * the beat, or is suspended: held from a concord, it resolves a step downward.
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
  /** How little unisons, fifths and octaves that follow each other are liked (0). */
  readonly parallels?: number
  /** Ways for all voices that begin together, of which the best is taken. */
  readonly tries: number
}

/** Unison, thirds, fourth, fifth; from the fourteenth century on sixths in place of the fourth. */
const OLD: ReadonlySet<number> = new Set([0, 3, 4, 5, 7])
const LATER: ReadonlySet<number> = new Set([0, 3, 4, 7, 8, 9])

const THIRTEENTH: Manner = { concords: OLD, sought: [1, 0.6, 0.15], upper: 1.5, leapt: 0.4, passing: false, tries: 6 }
const FOURTEENTH: Manner = {
  concords: LATER,
  sought: [1, 0.85, 0.35],
  upper: 3,
  leapt: 1.6,
  passing: false,
  tries: 8,
}
const FIFTEENTH: Manner = { concords: LATER, sought: [1, 1, 1], upper: 9, leapt: 0, passing: true, tries: 8 }

export const MANNERS: Readonly<Record<LawfulPractice, Manner>> = {
  "ars-antiqua": THIRTEENTH,
  "divided-breves": THIRTEENTH,
  "ars-nova-early": FOURTEENTH,
  "ars-nova": FOURTEENTH,
  white: FIFTEENTH,
}

/**
 * The same as the rules of counterpoint would have it, without the freedom that the pieces take: every unit begins in
 * concord, as the odd notes of a mode do (De mensurabili musica, c. 1260, XI) and as notes set against notes do in the
 * fourteenth century (common practice); what is discordant within a unit passes by step; from then on perfect concords do
 * not follow each other in the same two voices (common practice).
 */
export const STRICT_MANNERS: Readonly<Record<LawfulPractice, Manner>> = {
  "ars-antiqua": strict(THIRTEENTH),
  "divided-breves": strict(THIRTEENTH),
  "ars-nova-early": strict(FOURTEENTH, 6),
  "ars-nova": strict(FOURTEENTH, 6),
  white: strict(FIFTEENTH, 6),
}

function strict(manner: Manner, parallels = 0): Manner {
  return { ...manner, sought: [1, 1, 1], passing: true, parallels }
}
