/**
 * Inscriptions that have a voice sung in other values than it is written in: a small set of Latin words. "In duplo",
 * "ad medium", "maxima sit longa" are named in Practica musicae, 1496, II.14; naming the next smaller note for each,
 * with its quality kept, in Libellus cantus mensurabilis, c. 1340, 11; the other words are common practice.
 */
import { ratio, type Rational } from "../base/index.js"
import type { Divisions } from "./mensuration-signs.js"

const TIMES: readonly (readonly [RegExp, number])[] = [
  [/\bdupl(o|um|am|a)\b/, 2],
  [/\btripl(o|um|am|a)\b/, 3],
  [/\bquadrupl(o|um|am|a)\b/, 4],
]
const PARTS: readonly (readonly [RegExp, number])[] = [
  [/\bsubdupl(o|um|am|a)\b/, 2],
  [/\bsubtripl(o|um|am|a)\b/, 3],
  [/\bsubquadrupl(o|um|am|a)\b/, 4],
  [/\b(per|de|ad|in) ter[tc]i(um|o|am|a) part|\b(per|de) ter[tc]i(um|o)\b/, 3],
  [/\b(per|de|ad|in) quart(um|o|am|a) part|\b(per|de) quart(um|o)\b/, 4],
]
/** Triplum and quadruplum are voices too: a number speaks of values behind a preposition or with a verb of growing. */
const OF_VALUES = /\b(in|per|ad) (du|tri|quadru)pl|\b(de)?cresc|\baug|\bdiminu/
const HALVED =
  /\b(ad|per|in) (medium|dimidium|medietatem)\b|\b(in|per|de) (medio|dimidio|medietate)\b|\bper semi\b|\bdiminu/
const DOUBLED = /\baugment/
const NAMES = ["maxima", "longa", "brevis", "semibrevis", "minima"]

/** By what the written durations are divided, if the inscription says it: 2 for "ad medium", 1/2 for "crescit in duplo". */
export function canonRatio(text: string, divisions: Divisions): Rational | undefined {
  const words = text
    .toLowerCase()
    .replaceAll(/[^a-z]+/g, " ")
    .trim()
  const named = byNames(words, divisions)
  if (named !== undefined) return named
  const found = TIMES.find(([pattern]) => pattern.test(words))
  if (found !== undefined && OF_VALUES.test(words))
    return /\b(decresc|diminu)/.test(words) ? ratio(found[1]) : ratio(1, found[1])
  const part = PARTS.find(([pattern]) => pattern.test(words))
  if (part !== undefined) return ratio(part[1])
  if (HALVED.test(words)) return ratio(2)
  return DOUBLED.test(words) ? ratio(1, 2) : undefined
}

/** "Maxima sit longa": each note becomes the next, worth as many units of the next smaller kind as it was of its own. */
function byNames(words: string, { modusMaior, modusMinor, tempus, prolatio }: Divisions): Rational | undefined {
  const found = new RegExp(`\\b(${NAMES.join("|")}) (sit|fit|est|erit) (${NAMES.join("|")})\\b`).exec(words)
  if (!found) return undefined
  const [from, to] = [NAMES.indexOf(found[1]!), NAMES.indexOf(found[3]!)]
  const divisions = [modusMaior, modusMinor, tempus, prolatio, 2]
  // the worth of a written unit against the one it is sung as: one level further down than the names; a minim halves
  const between = (a: number, b: number): number => divisions.slice(a + 1, b + 1).reduce((all, one) => all * one, 1)
  return from <= to ? ratio(between(from, to)) : ratio(1, between(to, from))
}
