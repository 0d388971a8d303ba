/**
 * Reads the case files of this folder (README.md tells their form). Only the frame is read here; the signs are
 * shorthand, and the reading of them is judged in cases.test.ts.
 */
import { fromText, type Rational } from "@resolutio/core"

/** What one way of reading must give, note by note and rest by rest. */
export interface Expected {
  /** Empty where the case says nothing of durations. */
  readonly durations: readonly Lasting[]
  /** Options beyond those of the case, for an accepted other reading. */
  readonly options: Readonly<Record<string, string>>
}

export interface Lasting {
  readonly duration: Rational
  /** Written "2+1": of the whole, this much belongs to the plica. */
  readonly plica?: Rational
}

export interface Case {
  readonly file: string
  /** Line of the title, from 1. */
  readonly line: number
  readonly title: string
  readonly source: string
  /** Names of the practices that must all give this reading. */
  readonly practices: readonly string[]
  readonly options: Readonly<Record<string, string>>
  readonly shorthand: string
  readonly expected: Expected
  readonly accepted: readonly Expected[]
  /** One id for each note and rest; "*" where the case does not say. Empty when the case says nothing of it. */
  readonly rules: readonly string[]
  /** Ids that at least one sign bears. */
  readonly borne: readonly string[]
  /** What the dots and strokes are taken for, in order. */
  readonly dots: readonly string[]
  /** Levels of the notes, where the drawn form must tell them. */
  readonly levels: readonly string[]
  /** Pitches of the plica tones in order; a "?" after one where it must not be certain. */
  readonly plicaPitches: readonly string[]
  /** Codes of problems that must be reported; "any" for one of whatever code. */
  readonly problems: readonly string[]
}

const HEAD = ["source", "practice", "options"]
const TAIL = ["rules", "borne", "dots", "levels", "plica pitches", "problems"]

/** All cases of a file. Throws, with file and line, when the file does not keep to the form: it is ours. */
export function parseCases(text: string, file: string): Case[] {
  const lines = text.split(/\r?\n/)
  const starts = lines.flatMap((line, at) => (line.startsWith("== ") ? [at] : []))
  const before = lines
    .slice(0, starts[0] ?? lines.length)
    .findIndex(line => line.trim() !== "" && !line.startsWith("#"))
  if (before >= 0) fail(file, before, `a case begins with "== " and its title; this stands before any`)
  return starts.map((start, at) => parseCase(lines.slice(start, starts[at + 1] ?? lines.length), file, start))
}

function parseCase(lines: readonly string[], file: string, start: number): Case {
  const blank = lines.findIndex(line => line.trim() === "")
  const arrow = lines.findIndex(line => line.startsWith("->"))
  if (blank < 0 || arrow < blank)
    fail(file, start, "after the head comes an empty line, then the signs, then a line that begins with ->")
  const head = fields(lines.slice(1, blank), HEAD, file, start + 1)
  const tail = fields(
    lines.slice(arrow + 1).filter(line => !line.startsWith("with ")),
    TAIL,
    file,
    start + arrow + 1,
  )
  const list = (name: string) => words(tail.get(name) ?? "")
  const expected = parseExpected({}, lines[arrow]!.slice(2), file, start + arrow)
  const rules = list("rules")
  const { length } = expected.durations
  if (rules.length > 0 && length > 0 && rules.length !== length)
    fail(file, start + arrow, `${length} durations but ${rules.length} rules`)
  return {
    file,
    line: start + 1,
    title: lines[0]!.slice(3).trim(),
    source: head.get("source") ?? fail(file, start, "a case needs its source"),
    practices: words(head.get("practice") ?? fail(file, start, "a case needs a practice")),
    options: parseOptions(head.get("options") ?? "", file, start),
    shorthand:
      lines
        .slice(blank + 1, arrow)
        .join("\n")
        .trim() + "\n",
    expected,
    accepted: lines.flatMap((line, at) => (line.startsWith("with ") ? [parseAccepted(line, file, start + at)] : [])),
    rules,
    borne: list("borne"),
    dots: list("dots"),
    levels: list("levels"),
    plicaPitches: list("plica pitches"),
    problems: list("problems"),
  }
}

/** `name: text` lines; comments and empty lines are passed over. */
function fields(lines: readonly string[], known: readonly string[], file: string, start: number): Map<string, string> {
  const found = new Map<string, string>()
  lines.forEach((line, at) => {
    if (line.trim() === "" || line.startsWith("#")) return
    const [, name = "", text = ""] = /^([a-z ]+):(.*)$/.exec(line) ?? []
    if (!known.includes(name)) fail(file, start + at, `"${line}" is none of ${known.join(", ")}`)
    if (found.has(name)) fail(file, start + at, `${name} stands twice`)
    found.set(name, text.trim())
  })
  return found
}

/** "with option=value: durations". */
function parseAccepted(line: string, file: string, at: number): Expected {
  const [, options, durations] = /^with ([^:]+):(.*)$/.exec(line) ?? []
  if (options === undefined || durations === undefined) fail(file, at, `write "with option=value: durations"`)
  return parseExpected(parseOptions(options!, file, at), durations!, file, at)
}

function parseExpected(options: Readonly<Record<string, string>>, text: string, file: string, at: number): Expected {
  if (text.trim() === "*") return { durations: [], options }
  const durations = words(text).map(word => parseLasting(word) ?? fail(file, at, `"${word}" is no duration`))
  if (durations.length === 0) fail(file, at, "there are no durations after the arrow")
  return { durations, options }
}

/** "3", "4/3", or "2+1" for a body and its plica. */
function parseLasting(word: string): Lasting | undefined {
  const [body = "", limb] = word.split("+")
  const duration = fromText(body)
  if (!duration || limb === undefined) return duration && { duration }
  const plica = fromText(limb)
  return plica && { duration: total(duration, plica), plica }
}

const total = (a: Rational, b: Rational) => fromText(`${a.num * b.den + b.num * a.den}/${a.den * b.den}`)!

function parseOptions(text: string, file: string, at: number): Record<string, string> {
  const pairs = words(text).map(
    word => /^([^=]+)=([^=]+)$/.exec(word) ?? fail(file, at, `"${word}" is not option=value`),
  )
  return Object.fromEntries(pairs.map(([, name, value]) => [name, value]))
}

const words = (text: string) => text.split(/[\s,]+/).filter(word => word !== "")

function fail(file: string, at: number, what: string): never {
  throw new Error(`${file}, line ${at + 1}: ${what}`)
}
