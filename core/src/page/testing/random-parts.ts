/** What random pages are put together from. */
import * as fc from "fast-check"
import { signId } from "../../base/index.js"
import type { Level } from "../level.js"
import type { Accidental, Coloration, Editorial, Note, Pitch } from "../signs.js"
import { LEVELS } from "../level.js"

export type Notation = "black" | "white" | "unknown"
/** What a page's parts may point to. */
export interface Names {
  readonly shapes: readonly string[]
  readonly people: readonly string[]
  readonly sources: readonly string[]
  readonly zones: readonly string[]
}

/** An object with all of `always` and, each with a chance of about one in five, some of `seldom`. */
export function pick<T>(
  always: { [K in keyof T]?: fc.Arbitrary<T[K]> },
  seldom: { [K in keyof T]?: fc.Arbitrary<T[K]> } = {},
): fc.Arbitrary<T> {
  const model = { ...always } as Record<string, fc.Arbitrary<unknown>>
  for (const key of Object.keys(seldom) as (keyof T & string)[])
    model[key] = fc.oneof(
      { weight: 4, arbitrary: fc.constant(undefined) },
      { weight: 1, arbitrary: seldom[key] as fc.Arbitrary<unknown> },
    )
  return fc.record(model).map(found => {
    for (const key of Object.keys(found)) if (found[key] === undefined) delete found[key]
    return found as T
  })
}

const letters = "abcdefghijklmnopqrstuvwxyzABCÆéũ".split("")
const marks = [
  "&",
  "<",
  ">",
  '"',
  "'",
  "{",
  "}",
  "(",
  ")",
  "[",
  "]",
  "-",
  "_",
  "~",
  ":",
  ";",
  ".",
  ",",
  "#",
  "/",
  "\\",
  "%",
  "=",
  "|",
  "*",
  "7",
]
const word = fc.string({
  unit: fc.oneof(
    { weight: 8, arbitrary: fc.constantFrom(...letters) },
    { weight: 1, arbitrary: fc.constantFrom(...marks) },
  ),
  minLength: 1,
  maxLength: 7,
})
/** One to three words, one blank between two, none at the ends. */
export const text = fc.array(word, { minLength: 1, maxLength: 3 }).map(words => words.join(" "))
/** A syllable: a word, or rarely two. */
export const syllableText = fc.oneof({ weight: 5, arbitrary: word }, { weight: 1, arbitrary: text })
/** "3v", "12", … */
export const number = fc.stringMatching(/^[1-9][0-9]?[rv]?$/)

export const level: fc.Arbitrary<Level> = fc.constantFrom(...LEVELS)
export const pitch: fc.Arbitrary<Pitch> = fc.record({
  step: fc.constantFrom("a", "b", "c", "d", "e", "f", "g"),
  octave: fc.integer({ min: 2, max: 5 }),
})
export const accidental: fc.Arbitrary<Accidental> = fc.constantFrom("s", "f", "n", "x", "ff")
export const halves = fc.integer({ min: 1, max: 12 }).map(n => n / 2)
export const loc = fc.integer({ min: -3, max: 12 })
/** To be replaced when the whole page is there. */
export const id = fc.constant(signId("")) as fc.Arbitrary<Note["id"]>

export function coloration(notation: Notation, of: "note" | "rest"): fc.Arbitrary<Coloration> {
  const fills: Coloration[] = notation === "black" ? ["void"] : notation === "white" ? ["black"] : ["void", "black"]
  const halfHeads: Coloration[] = of === "note" ? ["half-left", "half-right", "half-top", "half-bottom"] : []
  return fc.oneof(
    { weight: 5, arbitrary: fc.constant<Coloration>("none") },
    { weight: 2, arbitrary: fc.constantFrom<Coloration>("red", "red-void", "other", ...fills, ...halfHeads) },
  )
}

export function editorial(
  names: Names,
  kinds: readonly Editorial["kind"][] = ["supplied", "unclear", "corr", "lem", "rdg", "reg", "add"],
): fc.Arbitrary<Editorial> {
  return pick<Editorial>(
    { kind: fc.constantFrom(...kinds) },
    {
      resp: fc.constantFrom(...names.people),
      cert: fc.constantFrom("high", "medium", "low"),
      reason: text,
      source: fc.constantFrom(...names.sources),
    },
  )
}

/** What formats carry along, with letters and names that not every one of them can hold. */
const extra = fc.dictionary(fc.constantFrom("tool", "a b", "x:y"), text, { minKeys: 1, maxKeys: 2 })

/** What every sign may have. */
export const common = (names: Names) => ({
  zone: fc.constantFrom(...names.zones),
  editorial: editorial(names),
  extra,
})
