/**
 * MEI's @type takes any number of words. What the mensural module has no attribute for is kept there as words of the
 * form "name" or "name:part:part"; characters that a word may not have are written "_" hex code "_".
 */
import type { Editorial } from "../../page/index.js"
import { table } from "./table.js"

export type Tokens = readonly string[]

export function splitTokens(type: string | undefined): Tokens {
  return type ? type.split(/\s+/).filter(Boolean) : []
}

/** "spaces", 1, 2 gives "spaces:1:2". */
export function token(name: string, ...parts: readonly (string | number)[]): string {
  return [name, ...parts.map(part => escapePart(String(part)))].join(":")
}

/** Parts of the first token of this name; undefined when there is none. */
export function tokenParts(tokens: Tokens, name: string): string[] | undefined {
  return allTokenParts(tokens, name)[0]
}

/** The name of a token and its parts. */
export const partsOfToken = (one: string): string[] => one.split(":").map(unescapePart)

export function allTokenParts(tokens: Tokens, name: string): string[][] {
  return tokens.filter(one => one.startsWith(`${name}:`)).map(one => one.split(":").slice(1).map(unescapePart))
}

/** First part of the first token of this name. */
export function tokenPart(tokens: Tokens, name: string): string | undefined {
  return tokenParts(tokens, name)?.[0]
}

function escapePart(part: string): string {
  return part.replace(/[^A-Za-z0-9.-]/gu, c => `_${c.codePointAt(0)!.toString(16)}_`)
}
function unescapePart(part: string): string {
  return part.replace(/_([0-9a-f]{1,6})_/g, (whole, hex: string) => {
    const code = Number.parseInt(hex, 16)
    return code <= 0x10ffff ? String.fromCodePoint(code) : whole
  })
}

/** The word of a rdg that only stands there because an app must have one. */
export const NO_READING = "none"

/** The word of a lem that is no editor's: what stands in it was not marked as chosen. */
export const UNMARKED = "unmarked"

/** The word of a stem with a flag of which nothing more is known. */
export const FLAGGED = "flagged"

/** The word of a note whose written accidental is said to be in force as well. */
export const IN_FORCE = "accidental-in-force"

/** Elements that only say something of what stands in them: whose hand it shows, or "none" for the source's own. */
const HANDS = table<Editorial["kind"] | "none">({
  supplied: "supplied",
  unclear: "unclear",
  corr: "corr",
  lem: "lem",
  rdg: "rdg",
  reg: "reg",
  add: "add",
  sic: "none",
  orig: "none",
  damage: "none",
  restore: "none",
  abbr: "none",
  expan: "none",
})
export const EDITORIAL_KINDS = ["supplied", "unclear", "corr", "lem", "rdg", "reg", "add"] as const

/** Undefined for an element that is no editor's. */
export const handNamed = (name: string): Editorial["kind"] | "none" | undefined => HANDS[name]

/** Whose hand a reading that was not chosen shows by its element alone. */
export function usualHand(name: string): Editorial["kind"] {
  const kind = handNamed(name)
  return kind === undefined || kind === "none" ? "rdg" : kind
}

/** What XML takes for an id. */
export function isName(id: string): boolean {
  return /^[\p{L}_][\p{L}\p{N}_.-]*$/u.test(id) && !id.startsWith(PREFIX)
}
const PREFIX = "_x."

/** An id as XML can hold it: itself, or escaped when it is no name. */
export function toName(id: string): string {
  return isName(id) ? id : PREFIX + escapePart(id)
}
export function fromName(name: string): string {
  return name.startsWith(PREFIX) ? unescapePart(name.slice(PREFIX.length)) : name
}
