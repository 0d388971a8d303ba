/**
 * A canon in words and values, as every written form of a page holds it: a word for each voice, or for each further time
 * that the voice before it sings, with what is particular to it ("voice", then "voice" with after=2B and interval=-5).
 */
import { fromText, timeFromText, toText, type Rational } from "../base/index.js"
import type { Canon, CanonEntry, CanonSign, CanonStatement, CanonVoice } from "./canon.js"
import { ABBREVIATIONS, LEVELS } from "./level.js"
import { areDrawable, mensurationWord, readMensurationWord } from "./shorthand/words.js"

/** One voice, or one further statement, as it is written. A word without a value is true. */
export interface CanonWord {
  readonly name: "voice" | "then"
  readonly says: readonly (readonly [name: string, value?: string])[]
}

type Parts = CanonStatement & Omit<CanonVoice, "statements">

interface Saying {
  readonly name: string
  /** Of a voice as a whole, not of one of its statements. */
  readonly ofVoice?: true
  /** It stands there without a value. */
  readonly flag?: true
  /** Undefined when the value does not say it. */
  readonly read: (value: string) => Partial<Parts> | undefined
  /** Undefined when there is nothing to say. */
  readonly write: (parts: Parts) => string | undefined
}

const flag = (name: string, sets: Partial<Parts>, is: (parts: Parts) => boolean, ofVoice?: true): Saying => ({
  name,
  flag: true,
  ...(ofVoice && { ofVoice }),
  read: () => sets,
  write: parts => (is(parts) ? "" : undefined),
})

const SAYINGS: readonly Saying[] = [
  { name: "label", ofVoice: true, read: label => (label ? { label } : undefined), write: ({ label }) => label },
  { name: "after", ofVoice: true, read: readEntry, write: ({ entry }) => entry && writeEntry(entry) },
  {
    name: "interval",
    ofVoice: true,
    read: readInterval,
    write: ({ interval }) => (interval === undefined ? undefined : String(interval)),
  },
  flag("exact", { steps: "exact" }, ({ steps }) => steps === "exact", true),
  flag("diatonic", { steps: "diatonic" }, ({ steps }) => steps === "diatonic", true),
  { name: "values", read: readValues, write: ({ values }) => values && toText(values) },
  { name: "sign", read: readSign, write: ({ sign }) => sign && mensurationWord(sign) },
  flag("reversed", {}, ({ sign }) => sign?.reversed === true),
  flag("backwards", { backwards: true }, ({ backwards }) => backwards === true),
  flag("inverted", { inverted: true }, ({ inverted }) => inverted === true),
  flag("without-rests", { withoutRests: true }, ({ withoutRests }) => withoutRests === true),
  {
    name: "until",
    read: text => withNumber(signumNumber(text), until => ({ until })),
    write: ({ until }) => (until === undefined ? undefined : signumWord(until)),
  },
]

/** All that can be said, for messages. */
export const CANON_FORM =
  'voice voice=(label="…" after=2B interval=-5 values=1/2 sign="C." backwards inverted without-rests until=signum) then=(values=1/2)'

/** Whether it stands without a value. */
export const isCanonFlag = (name: string): boolean => SAYINGS.find(one => one.name === name)?.flag === true

function withNumber(number: number | undefined, make: (number: number) => Partial<Parts>): Partial<Parts> | undefined {
  return number === undefined ? undefined : make(number)
}

const ENTRY = new RegExp(`^(\\d{1,6}(?:/\\d{1,6})?)(${LEVELS.map(level => ABBREVIATIONS[level]).join("|")})?$`)

function readEntry(text: string): Partial<Parts> | undefined {
  const signum = signumNumber(text)
  if (signum !== undefined) return { entry: { signum } }
  const [, time, abbreviation] = ENTRY.exec(text) ?? []
  const after = timeFromText(time ?? "")
  const level = LEVELS.find(one => ABBREVIATIONS[one] === abbreviation)
  return after && { entry: { after, ...(level && { level }) } }
}

function writeEntry(entry: CanonEntry): string {
  if (entry.after === undefined) return signumWord(entry.signum)
  return toText(entry.after) + (entry.level ? ABBREVIATIONS[entry.level] : "")
}

/** "signum" is the first, "signum2" the second. */
function signumNumber(text: string): number | undefined {
  const found = /^signum([1-9]\d{0,2})?$/.exec(text)
  return found ? Number(found[1] ?? 1) : undefined
}
const signumWord = (number: number): string => (number === 1 ? "signum" : `signum${number}`)

const WIDEST_INTERVAL = 29
function readInterval(text: string): Partial<Parts> | undefined {
  const interval = /^-?\d{1,2}$/.test(text) ? Number(text) : 0
  return interval === 0 || Math.abs(interval) > WIDEST_INTERVAL ? undefined : { interval }
}

/** Beyond this no note could be written. */
const MOST_TIMES = 64
function readValues(text: string): Partial<Parts> | undefined {
  const values = fromText(text)
  return values && values.num > 0 && fits(values) ? { values } : undefined
}
const fits = ({ num, den }: Rational): boolean => num <= MOST_TIMES * den && den <= MOST_TIMES * num

function readSign(text: string): Partial<Parts> | undefined {
  const parts = readMensurationWord(text)
  if (!parts || (parts.figures && (!areDrawable(parts.figures) || parts.figures.length > 2))) return undefined
  return { sign: parts as CanonSign }
}

/** The canon, or what of it cannot be: a name or value that nothing is known of, or no voice at all. */
export function readCanon(words: readonly CanonWord[]): { canon: Canon } | { wrong: string } {
  const voices: (Omit<CanonVoice, "statements"> & { statements: CanonStatement[] })[] = []
  for (const { name, says } of words) {
    const parts = partsOf(says, name === "voice")
    if (typeof parts === "string") return { wrong: parts }
    const { label, entry, interval, steps, ...statement } = parts
    if (name === "voice") {
      const own = { label, entry, interval: Math.abs(interval ?? 1) === 1 ? undefined : interval, steps }
      voices.push({ ...(withoutUndefined(own) as Omit<CanonVoice, "statements">), statements: [statement] })
    } else if (voices.length === 0) return { wrong: "then" }
    else voices.at(-1)!.statements.push(statement)
  }
  return voices.length === 0 ? { wrong: "voice" } : { canon: voices }
}

function partsOf(says: CanonWord["says"], ofVoice: boolean): Parts | string {
  let parts: Parts = {}
  for (const [name, value] of says) {
    const saying = SAYINGS.find(one => one.name === name && (ofVoice || !one.ofVoice))
    const fits = saying && (saying.flag ? value === undefined : value !== undefined)
    const read = fits ? saying.read(value ?? "") : undefined
    if (!read) return value === undefined ? name : `${name}=${value}`
    parts = { ...parts, ...read }
  }
  if (!says.some(([name]) => name === "reversed")) return parts
  return parts.sign ? { ...parts, sign: { ...parts.sign, reversed: true } } : "reversed"
}

const withoutUndefined = (all: object): object =>
  Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined))

/** "C.", and "reversed C" where it is turned. */
export const mensurationWordOf = (sign: CanonSign): string =>
  `${sign.reversed ? "reversed " : ""}${mensurationWord(sign)}`

export function writeCanon(canon: Canon): CanonWord[] {
  return canon.flatMap(({ statements, ...own }) =>
    statements.map((statement, i): CanonWord => {
      const parts: Parts = i === 0 ? { ...own, ...statement } : statement
      const says = SAYINGS.flatMap(({ name, write }): [string, string?][] => {
        const value = write(parts)
        return value === undefined ? [] : value === "" ? [[name]] : [[name, value]]
      })
      return { name: i === 0 ? "voice" : "then", says }
    }),
  )
}
