/**
 * The Latin of canon inscriptions, word by word: spellings made alike, numbers, lengths, intervals, ways of going. That a
 * rest that is called out is not kept ("clama ne cesses") is told in Dodecachordon, 1547, III.8; the other formulas are
 * common practice.
 */
import { ratio, type Rational } from "../base/index.js"
import type { Level } from "../page/index.js"

/** Small letters and single blanks; "dyapason", "tercia", "quattuor", "hebræorum" as "diapason", "tertia", "quatuor", "hebreorum". */
export function plainLatin(text: string): string {
  return text
    .toLowerCase()
    .replaceAll("æ", "e")
    .replaceAll("œ", "e")
    .normalize("NFD")
    .replaceAll(/\p{M}/gu, "")
    .replaceAll("y", "i")
    .replaceAll("th", "t")
    .replaceAll(/[ao]e/g, "e")
    .replaceAll(/ci(?=[aou])/g, "ti")
    .replaceAll("quattuor", "quatuor")
    .replaceAll(/[^a-z0-9]+/g, " ")
    .trim()
}

const NUMBERS: readonly (readonly [pattern: string, number: number])[] = [
  ["un(?:us|a|um|ius|o|am|e)", 1],
  ["du(?:o|e|as|os|obus|orum|arum|abus)", 2],
  ["tr(?:es|ia|ium|ibus)", 3],
  ["quatuor", 4],
  ["quinque", 5],
  ["sex", 6],
  ["septem", 7],
  ["octo", 8],
  ["novem", 9],
  ["decem", 10],
  ["duodecim", 12],
]
const ROMANS = ["i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"]
export const NUMBER = `(?:${NUMBERS.map(([pattern]) => pattern).join("|")}|iiii|${ROMANS.join("|")}|\\d{1,2})`

export function numberOf(word: string): number {
  if (/^\d+$/.test(word)) return Number(word)
  const roman = word === "iiii" ? 4 : ROMANS.indexOf(word) + 1
  return roman > 0 ? roman : (NUMBERS.find(([pattern]) => new RegExp(`^${pattern}$`).test(word))?.[1] ?? 1)
}

/** A tempus is a breve; a suspirium is a minim rest. */
const LENGTHS: readonly (readonly [pattern: string, level: Level])[] = [
  ["maxim(?:a|am|as|arum|is|e)", "maxima"],
  ["long(?:a|am|as|arum|is|e)", "longa"],
  ["semibrev(?:is|em|es|ium|ibus|e)", "semibrevis"],
  ["brev(?:is|em|es|ium|ibus|e)", "brevis"],
  ["temp(?:us|oris|ore|ora|orum|oribus)", "brevis"],
  ["minim(?:a|am|as|arum|is|e)", "minima"],
  ["suspiri(?:um|a|o|orum|is|i)", "minima"],
]
const LENGTH = `(?:${LENGTHS.map(([pattern]) => pattern).join("|")})`
const RESTS = "(?:paus(?:a|am|as|arum|is|e) )?"

export interface Length {
  readonly count: Rational
  readonly level: Level
}

/** All lengths that are named: "post duo tempora", "trium temporum", "post unam longam", "post tempus". */
export function lengthsIn(words: string): Length[] {
  const pattern = new RegExp(
    `\\b(?:(${NUMBER}) ${RESTS}(${LENGTH})|post ${RESTS}(${LENGTH}))\\b(?! (?:sit|fit|est|erit))`,
    "g",
  )
  return [...words.matchAll(pattern)].map(([, number, counted, single]) => ({
    count: ratio(number === undefined ? 1 : numberOf(number)),
    level: LENGTHS.find(([own]) => new RegExp(`^${own}$`).test(counted ?? single ?? ""))![1],
  }))
}

const GREEK: readonly (readonly [pattern: string, size: number])[] = [
  ["bisdiapason", 15],
  ["diapason(?: cum)? diapente", 12],
  ["diapason(?: cum)? diatessaron", 11],
  ["diapason", 8],
  ["diapente", 5],
  ["diatessaron", 4],
  ["(?:semi)?diton(?:o|um|us)", 3],
  ["unison(?:o|um|us)", 1],
]
const ORDINALS = ["secunda", "tertia", "quarta", "quinta", "sexta", "septima", "octava", "nona", "decima"]

export interface Interval {
  readonly size: number
  /** Undefined where it is not said. */
  readonly direction?: "above" | "below"
}

const ABOVE = "epi|hiper|super|supra"
const BELOW = "sub|hipo|ipo|infra"
const BEHIND = "(?: (superius|inferius|superior\\w*|inferior\\w*|supra|infra|ascend\\w*|descend\\w*))?"

/** All intervals that are named: "in epidiapente", "in subdiapason", "ad quintam inferiorem", "in unisono". */
export function intervalsIn(words: string): Interval[] {
  const greek = GREEK.map(([pattern]) => pattern).join("|")
  const ordinal = ORDINALS.join("|")
  const pattern = new RegExp(
    `\\b(?:(${ABOVE}|${BELOW}) ?)?(${greek})\\b${BEHIND}|\\b(?:in|ad) (${ordinal})m?\\b(?! part)${BEHIND}`,
    "g",
  )
  return [...words.matchAll(pattern)].map(([, prefix, name, after, counted, afterCounted]): Interval => {
    const size = counted
      ? ORDINALS.indexOf(counted) + 2
      : GREEK.find(([own]) => new RegExp(`^${own}$`).test(name ?? ""))![1]
    const direction = directionOf(prefix ?? after ?? afterCounted ?? "")
    return { size, ...(direction && { direction }) }
  })
}

function directionOf(word: string): Interval["direction"] {
  if (new RegExp(`^(?:${ABOVE}|super|ascend)`).test(word)) return "above"
  return new RegExp(`^(?:${BELOW}|infer|descend)`).test(word) ? "below" : undefined
}

/** From the last note to the first. */
export const BACKWARDS =
  /\bcancr|\bcancer\b|\bretrogra|\bretrors|\bvade retro\b|\b(more|modo) hebreorum\b|\ba fine (ad|in|usque)\b|\brecurr(it|at|endo)\b|\brevert(itur|atur|endo)\b/
/** Up for down. */
export const INVERTED = /\b(e|per|in) contrari|\bcontrari\w* (motu|gradu)|\bqui se exaltat humiliabitur\b/
export const WITHOUT_RESTS = /\bclama ne cesses\b|\bsine pausis\b|\b(o|ob)missis pausis\b|\bpausas? (ne|non) (serv|fac)/
export const FOLLOWED =
  /\bfug(a|am|abis|atur|e)\b|\bsimphoni[sz]|\bsequ(i|e)tur\b|\bsequens\b|\binsequ|\b(duo|due|tres|tria|quatuor|quinque|sex|trinitas|trinus) (in|ex) un/
