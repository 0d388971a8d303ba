/** The small change of the shorthand: words with a value and arguments, quoted where they must be. */
import type { TreeCursor } from "@lezer/common"

/** `name`, `name=value`, `name=value(one two=2)`; every part may be a "quoted text". */
export interface Term {
  readonly name: string
  /** The name stood in quotes. */
  readonly quoted: boolean
  readonly value?: string
  /** The value with all its spaces and line ends, for what is only carried along. */
  readonly rawValue?: string
  readonly args?: readonly Term[]
  readonly from: number
  readonly to: number
}

/** What hangs on a sign: `:flag`, `/stem`, `\plica`, `_`. */
export interface Suffix extends Term {
  readonly kind: "flag" | "stem" | "plica" | "oblique"
}

// What the grammar's flagText takes, of which only letters, digits and a few marks are written without quotes.
const BARE = /^[\p{L}0-9_+#?~-]+(?:\.[\p{L}0-9_+#?~-]+|\/[0-9]+)*$/u
// Letters of the right range of the grammar; others (old letters' lookalikes above it) are quoted.
const inRange = (text: string) => !/[\u0080-\u00a0\ufeff-\uffff\u{10000}-\u{10ffff}]/u.test(text)

/** Whether a text can stand without quotes. */
export function isBare(text: string): boolean {
  return BARE.test(text) && inRange(text)
}
/** The text as it is written: in quotes unless it is one plain word. */
export function quote(text: string): string {
  return isBare(text) ? text : JSON.stringify(text)
}

/**
 * The inside of a quoted text. Escapes are those of JSON; a backslash before any other letter stands for itself, and so
 * does an escape for a letter that no document can hold.
 */
export function unquote(text: string): string {
  if (!text.startsWith('"')) return text
  const inside = text.length > 1 && text.endsWith('"') ? text.slice(1, -1) : text.slice(1)
  return inside.replace(/\\(u[0-9a-fA-F]{4}|.)/gsu, (whole, what: string) => {
    if (what.length !== 5) return lookUp(ESCAPES, what) ?? whole
    const letter = String.fromCharCode(parseInt(what.slice(1), 16))
    return FORBIDDEN.test(letter) ? whole : letter
  })
}
const ESCAPES: Record<string, string> = { n: "\n", r: "\r", t: "\t", '"': '"', "\\": "\\", "/": "/" }
// What XML cannot hold, and the letter that stands where a text was not decoded.
const FORBIDDEN = /[^\t\n\r\u0020-\ufffc\u{10000}-\u{10ffff}]|[\ud800-\udfff]/u

/** The text with a blank for every letter that no document can hold, each told to `found`. */
export function withoutForbidden(text: string, found: (at: number) => void): string {
  return text.replace(new RegExp(FORBIDDEN, "gu"), (letter, at: number) => {
    found(at)
    return " ".repeat(letter.length)
  })
}

/** Texts have one blank between words and none at the ends, as in MEI: how they are typed is no part of them. */
export function tidy(text: string): string {
  return text.replace(/\s+/g, " ").trim()
}

/** Calls `visit` with the cursor on each child in turn; it must leave the cursor where it found it. */
export function forChildren(cursor: TreeCursor, visit: (cursor: TreeCursor) => void): void {
  if (!cursor.firstChild()) return
  do visit(cursor)
  while (cursor.nextSibling())
  cursor.parent()
}

/** Reads an Argument, Pair, Flag, Stem or Plica. */
export function readTerm(cursor: TreeCursor, text: string): Term {
  let name: string | undefined
  let quoted = false
  let rawValue: string | undefined
  let args: Term[] | undefined
  const { from, to } = cursor
  forChildren(cursor, child => {
    const here = text.slice(child.from, child.to)
    switch (child.name) {
      case "Name":
      case "String":
      case "UnclosedString":
        name = tidy(unquote(here))
        quoted = child.name !== "Name"
        break
      case "FlagName":
      case "StemName":
      case "PlicaName":
        name = here.slice(1)
        break
      case "Value":
        rawValue = here.length > 1 ? unquote(here.slice(1).trimStart()) : undefined
        break
      case "Arguments":
        args = []
        forChildren(child, pair => {
          if (pair.name === "Pair") args!.push(readTerm(pair, text))
        })
    }
  })
  const value = rawValue === undefined ? undefined : { value: tidy(rawValue), rawValue }
  return { name: name ?? "", quoted, ...value, ...(args && { args }), from, to }
}

const SUFFIXES: Record<string, Suffix["kind"]> = { Flag: "flag", Stem: "stem", Plica: "plica", Oblique: "oblique" }
/** The suffix at which the cursor is; undefined when it is at something else. */
export function readSuffix(cursor: TreeCursor, text: string): Suffix | undefined {
  const kind = lookUp(SUFFIXES, cursor.name)
  return kind && { ...readTerm(cursor, text), kind }
}

/** `name=value`, for arguments. */
export function pair(name: string, value: string | number): string {
  return `${quote(name)}=${typeof value === "number" ? value : quote(value)}`
}
/** ` (a b=c)` without the space; empty for no arguments. */
export function inBrackets(args: readonly string[]): string {
  return args.length > 0 ? `(${args.join(" ")})` : ""
}

/** A whole number within bounds, or undefined. */
export function readWhole(text: string | undefined, least: number, most: number): number | undefined {
  const number = /^-?\d{1,7}$/.test(text ?? "") ? Number(text) : NaN
  return number >= least && number <= most ? number : undefined
}
/** A length in staff spaces, or undefined. */
export function readLength(text: string | undefined): number | undefined {
  return /^\d{1,4}(?:\.\d{1,6})?$/.test(text ?? "") ? Number(text) : undefined
}
/** Largest number of a proportion, a figure or a given value. */
export const LARGEST = 9999
/** Heights on a staff, in steps above its bottom line, lie within this on either side. */
export const HIGHEST = 99

/** What a record holds under a word typed by a user; nothing for the names that every object has. */
export function lookUp<T>(all: Readonly<Record<string, T>>, word: string): T | undefined {
  return Object.hasOwn(all, word) ? all[word] : undefined
}
