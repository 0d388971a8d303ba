/** What is said of a sign first: what it is and how long it lasts. For the eye as a headline, for the ear as a name. */
import { compare, equals, times, type Rational } from "../base/index.js"
import { unitText, type Level } from "../page/index.js"
import { countText } from "./count-text.js"
import { divisionsOf } from "./divisions.js"
import type { Reading, SignReading } from "./types.js"

const WORDS = "no one two three four five six seven eight nine ten eleven twelve".split(" ")
const inWords = (value: Rational): string => (value.den === 1 && WORDS[value.num]) || countText(value)

/** Note values in English. */
export const LEVEL_NAMES: Readonly<Record<string, string>> = {
  maxima: "maxima",
  longa: "long",
  brevis: "breve",
  semibrevis: "semibreve",
  minima: "minim",
  semiminima: "semiminim",
  fusa: "fusa",
  semifusa: "semifusa",
}
/** What dots and strokes are taken for. */
const MARKS: Readonly<Record<string, string>> = {
  "punctus-divisionis": "A dot of division",
  "punctus-perfectionis": "A dot of perfection",
  "punctus-additionis": "A dot of addition",
  "punctus-alterationis": "A dot of alteration",
  "finis-punctorum": "The end of a section",
}
const KINDS: Readonly<Record<string, string>> = {
  dot: "A dot",
  stroke: "A stroke",
  mensuration: "A sign of mensuration",
  proportion: "A sign of proportion",
}

/** A level in plain English: "breve". */
export const levelName = (level: Level): string => LEVEL_NAMES[level]!

/** "breve", "semibreve rest"; "note" where the level is not known. */
function nameOfFigure({ kind, level }: SignReading): string {
  const bare = level === null ? "note" : LEVEL_NAMES[level]!
  if (kind !== "rest") return bare
  return level === null ? "rest" : `${bare} rest`
}

/** "four minims", "one tempus", "1½ tempora". */
function lengthInWords(duration: Rational, { unit }: Reading): string {
  return `${inWords(duration)} ${unitText(unit, duration)}`
}

/** "A breve of four minims, not six": what the level lasts whole is told where the sign does not last so. */
export function headlineOf(reading: Reading, sign: SignReading): string {
  if (sign.number === 0) return MARKS[sign.takenFor ?? ""] ?? KINDS[sign.kind] ?? "A sign without length"
  const whole = sign.held || sign.duration.num === 0 ? undefined : wholeIn(reading, sign)
  const not = whole && !equals(whole, sign.duration) ? `, not ${inWords(whole)}` : ""
  return `A ${nameOfFigure(sign)} of ${lengthInWords(sign.duration, reading)}${not}`
}

/** What its level lasts at that place where nothing acts on it, in the voice's unit. */
function wholeIn({ mensurations, unit }: Reading, { level, onset }: SignReading): Rational | undefined {
  const span = mensurations.findLast(one => compare(one.onset, onset) <= 0) ?? mensurations[0]
  if (level === null || !span) return undefined
  const divisions = divisionsOf(span, unit)
  const at = divisions.findIndex(one => one.level === level)
  if (at < 0) return undefined
  const units = divisions.slice(0, at + 1).reduce((size, { parts }) => size * parts, 1)
  const { num, den } = span.proportion
  return num > 0 ? times({ num: units, den: 1 }, { num: den, den: num }) : undefined
}

/**
 * "It could also last four minims (14 in 100).": other durations that are not far-fetched, likelier ones first; "" where it is not in
 * doubt. Where there are none, the doubt is that of the measure by which it lasts so long.
 */
export function otherLengths(reading: Reading, { rivals, doubt, number }: SignReading): string {
  if (doubt < 0.05) return ""
  const near = rivals.filter(rival => rival.chance >= 0.025).sort((one, other) => other.chance - one.chance)
  if (near.length === 0)
    return number === 0 ? "" : "The measure by which it lasts so long was found, and is not certain."
  const said = near
    .slice(0, 3)
    .map(({ duration, chance }) => `${lengthInWords(duration, reading)} (${Math.round(chance * 100)} in 100)`)
  return `It could also last ${said.join(" or ")}.`
}

const QUALITIES: Readonly<Record<string, string>> = {
  perfecta: "perfect",
  imperfecta: "imperfect",
  altera: "altered",
  minor: "lesser",
  maior: "greater",
  duplex: "double",
}
const ACCIDENTALS: Readonly<Record<string, string>> = { f: " flat", s: " sharp", n: " natural", x: " double sharp" }

/** "tenor 12, breve on b flat, imperfect, four minims, in doubt": a sign's name for those who hear it. */
export function spokenName(reading: Reading, sign: SignReading): string {
  const voice = reading.label || `voice ${reading.n}`
  if (sign.number === 0) return `${voice}, ${headlineOf(reading, sign).replace(/^(A|The) /, "")}`
  const [, step = "", accidental = "", octave = ""] = /^([a-g])(.*?)(-?\d+)$/.exec(sign.pitch ?? "") ?? []
  const pitch = step === "" ? "" : ` on ${step}${accidental === "" ? "" : (ACCIDENTALS[accidental] ?? "")} ${octave}`
  const parts = [
    `${voice} ${sign.number}`,
    nameOfFigure(sign) + pitch,
    sign.quality === null ? "" : QUALITIES[sign.quality]!,
    sign.held ? "held" : lengthInWords(sign.duration, reading),
    sign.doubt >= 0.05 ? "in doubt" : "",
  ]
  return parts.filter(part => part !== "").join(", ")
}
