/** A canon in English. */
import { equals, ONE, toText, type Rational } from "../base/index.js"
import type { Canon, CanonEntry, CanonStatement, CanonVoice } from "./canon.js"
import { mensurationWordOf } from "./canon-text.js"

/** "2 voices: as written; 2 breves later, a fifth below". */
export function canonWords(canon: Canon): string {
  const voices = canon.map(canonVoiceWords).join("; ")
  return canon.length === 1 ? voices : `${canon.length} voices: ${voices}`
}

/** "2 breves later, a fifth below, in values twice as long"; "as written". */
export function canonVoiceWords({ entry, interval, statements }: CanonVoice): string {
  const [first = {}, ...others] = statements
  const opening = [
    ...(entry ? [entryWords(entry)] : []),
    ...(interval === undefined ? [] : [intervalWords(interval)]),
    ...statementWords(first),
  ]
  const begun = opening.length > 0 ? opening.join(", ") : "as written"
  return [begun, ...others.map(one => `then ${statementWords(one).join(", ") || "as written"}`)].join(", ")
}

function statementWords({ values, sign, backwards, inverted, withoutRests, until }: CanonStatement): string[] {
  return [
    ...(sign ? [`under ${mensurationWordOf(sign)}`] : []),
    ...(values === undefined || equals(values, ONE) ? [] : [valuesWords(values)]),
    ...(backwards ? ["backwards"] : []),
    ...(inverted ? ["inverted"] : []),
    ...(withoutRests ? ["without rests"] : []),
    ...(until === undefined ? [] : [`up to ${signumWords(until)}`]),
  ]
}

function valuesWords(values: Rational): string {
  if (values.den === 1) return `in values ${values.num === 2 ? "twice" : `${values.num} times`} as long`
  if (values.num === 1)
    return `in values of ${values.den === 2 ? "half" : `a ${ORDINALS[values.den] ?? `1/${values.den}`}`} the length`
  return `in values ${toText(values)} as long as written`
}

const ORDINALS: Readonly<Record<number, string>> = { 3: "third", 4: "quarter" }

const PLURALS: Readonly<Record<string, string>> = {
  maxima: "maximas",
  longa: "longs",
  brevis: "breves",
  semibrevis: "semibreves",
  minima: "minims",
  semiminima: "semiminims",
  fusa: "fusas",
  semifusa: "semifusas",
}
const SINGULARS: Readonly<Record<string, string>> = {
  longa: "long",
  brevis: "breve",
  semibrevis: "semibreve",
  minima: "minim",
  semiminima: "semiminim",
}

function entryWords(entry: CanonEntry): string {
  if (entry.after === undefined) return `from ${signumWords(entry.signum)} on`
  const { after, level } = entry
  const count = toText(after)
  if (level === undefined) return `${count} units later`
  return `${count} ${equals(after, ONE) ? (SINGULARS[level] ?? level) : PLURALS[level]} later`
}

const signumWords = (number: number): string => (number === 1 ? "the signum" : `signum ${number}`)

const INTERVALS = ["unison", "second", "third", "fourth", "fifth", "sixth", "seventh", "octave"]

/** "a fifth below", "an octave above", "2 octaves and a third above". */
function intervalWords(interval: number): string {
  const steps = Math.abs(interval) - 1
  const octaves = Math.floor(steps / 7)
  const where = interval < 0 ? "below" : "above"
  if (steps < 8) return `${steps === 7 ? "an octave" : `a ${INTERVALS[steps]}`} ${where}`
  const rest = steps % 7 === 0 ? "" : ` and a ${INTERVALS[steps % 7]}`
  return `${octaves === 1 ? "an octave" : `${octaves} octaves`}${rest} ${where}`
}
