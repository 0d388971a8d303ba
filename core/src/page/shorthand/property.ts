/**
 * One property of a sign as a suffix, both ways: what it is called, how it is read, how it is written. The lists of
 * properties in properties.ts serve parser and printer alike, so the two cannot part.
 */
import { ABBREVIATIONS, type Level } from "../level.js"
import type { Pitch } from "../signs.js"
import { levelOf, readNoteWord } from "./words.js"
import { inBrackets, pair, quote, readLength, readWhole, type Suffix, type Term } from "./tokens.js"

/** What a property may need to know of the place where it stands. */
export interface Surroundings {
  /** The octave in force, for pitches written without one. */
  readonly octave: number | undefined
}

export interface Property<S> {
  readonly kind: Suffix["kind"]
  /** Names of flags that it answers to; stems and plicas answer to their own signs. */
  readonly names: readonly string[]
  /** Said when a flag of that name cannot be read: how it is written. */
  readonly form: string
  readonly read: (suffix: Term, around: Surroundings) => Partial<S> | undefined
  /** Empty when the sign does not have the property. */
  readonly write: (sign: S) => string
  /** It is a list, and may be said more than once of a sign. */
  readonly list?: true
}

/** The name of a key of S whose values are T. */
type KeyOf<S, T> = { [K in keyof S]-?: S[K] extends T | undefined ? K : never }[keyof S] & string

const set = <S>(key: keyof S, value: unknown): Partial<S> => ({ [key]: value }) as Partial<S>

/** `:wide`: true when it stands there. */
export function truth<S>(key: KeyOf<S, boolean>, name: string = key): Property<S> {
  return {
    kind: "flag",
    names: [name],
    form: `:${name}`,
    read: ({ value, args }) => (value === undefined && !args ? set<S>(key, true) : undefined),
    write: sign => (sign[key] ? `:${name}` : ""),
  }
}

/** `:red`: the word itself says which. `words` gives the word for each value, `silent` the value not written. */
export function choice<S, K extends keyof S>(key: K, words: Record<string, S[K]>, silent?: S[K]): Property<S> {
  const names = Object.keys(words)
  return {
    kind: "flag",
    names,
    form: names.map(name => `:${name}`).join(", "),
    read: ({ name, value, args }) => (value === undefined && !args ? set<S>(key, words[name]) : undefined),
    write: sign => {
      if (sign[key] === undefined || sign[key] === silent) return ""
      const name = names.find(one => words[one] === sign[key])
      return name === undefined ? "" : `:${name}`
    },
  }
}

function valued<S>(
  key: keyof S & string,
  name: string,
  form: string,
  read: (text: string) => unknown,
  write: (value: never) => string,
): Property<S> {
  return {
    kind: "flag",
    names: [name],
    form: `:${name}=${form}`,
    read: ({ value }) => {
      const found = value === undefined ? undefined : read(value)
      return found === undefined ? undefined : set<S>(key, found)
    },
    write: sign => (sign[key] === undefined ? "" : `:${name}=${write(sign[key] as never)}`),
  }
}

/** `:loc=3`. */
export function numeric<S>(key: KeyOf<S, number>, least: number, most: number, name: string = key): Property<S> {
  const form = `3, a whole number from ${least} to ${most}`
  return valued(
    key,
    name,
    form,
    text => readWhole(text, least, most),
    (value: number) => String(value),
  )
}
/** `:length=2.5`, in staff spaces. */
export function measured<S>(key: KeyOf<S, number>): Property<S> {
  return valued(key, key, "2.5", readLength, (value: number) => String(value))
}
/** `:zone=z1`; in quotes when it is more than one word. */
export function textual<S>(key: keyof S & string, name: string = key): Property<S> {
  return valued(
    key,
    name,
    "…",
    text => text || undefined,
    (value: string) => quote(value),
  )
}
/** `:level=S`. */
export function levelled<S>(key: KeyOf<S, Level>, name: string = key): Property<S> {
  return valued(
    key,
    name,
    "S",
    text => levelOf(text) ?? undefined,
    (value: Level) => ABBREVIATIONS[value],
  )
}
/** `:at=b3`: a pitch, its octave the one in force when none is written. */
export function pitched<S>(key: keyof S & string, name: string): Property<S> {
  return {
    kind: "flag",
    names: [name],
    form: `:${name}=c4`,
    read: ({ value }, around) => {
      const pitch = readPitch(value ?? "", around)
      return pitch && set<S>(key, pitch)
    },
    write: sign => (sign[key] === undefined ? "" : `:${name}=${writePitch(sign[key] as Pitch)}`),
  }
}

/** `:name(…)`: a property with parts of its own. */
export function composed<S>(
  key: keyof S & string,
  name: string,
  read: (args: readonly Term[], suffix: Term) => unknown,
  write: (value: never) => readonly string[],
): Property<S> {
  return {
    kind: "flag",
    names: [name],
    form: `:${name}(…)`,
    read: suffix => {
      const found = suffix.value === undefined ? read(suffix.args ?? [], suffix) : undefined
      return found === undefined ? undefined : set<S>(key, found)
    },
    write: sign => (sign[key] === undefined ? "" : `:${name}${inBrackets(write(sign[key] as never))}`),
  }
}

/** "c4", or "c" in the octave in force. */
export function readPitch(text: string, around: Surroundings): Pitch | undefined {
  const parts = readNoteWord(text)
  const octave = parts?.octave ?? around.octave
  if (!parts?.step || parts.accidental || parts.inForce || parts.oblique || octave === undefined) return undefined
  return { step: parts.step, octave }
}
export function writePitch({ step, octave }: Pitch): string {
  return `${step}${octave}`
}

/** Arguments `(a=1 b=2)` as a record, every one with a value; undefined when one has none. */
export function record(args: readonly Term[]): Record<string, string> | undefined {
  if (args.some(({ value }) => value === undefined)) return undefined
  return Object.fromEntries(args.map(({ name, value }) => [name, value as string]))
}
/** The same with the values as they were typed, letter by letter. */
export function rawRecord(args: readonly Term[]): Record<string, string> | undefined {
  return record(args.map(one => ({ ...one, value: one.rawValue })))
}
export function writeRecord(all: Readonly<Record<string, string>>): string[] {
  return inOrder(all).map(([name, value]) => pair(name, value))
}
/** By name: a record has no order of its own, so the normal form gives it one. */
export function inOrder<T>(all: Readonly<Record<string, T>>): [name: string, T][] {
  return Object.entries(all).sort(([a], [b]) => (a < b ? -1 : 1))
}
