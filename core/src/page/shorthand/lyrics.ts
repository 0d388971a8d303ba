/**
 * A line of lyrics: `> Ky-ri-e e-lei-son`, `2> …` for a further stanza. Single notes and the first note of each ligature
 * take a syllable in turn; `*` passes one over, `*5` five. What follows a syllable: `-` more of the word, `_` an
 * extender, `~` elision (with no space after it, the next syllable is on the same note), nothing: a new word. `+` puts
 * the next syllable on the same note in any case; `/` before a syllable makes it italic; quotes hold odd letters.
 */
import type { Syllable } from "../signs.js"
import { tidy, unquote } from "./tokens.js"

/** One step along the line. */
export type LyricStep =
  | { readonly kind: "pass"; readonly notes: number; readonly at: number }
  | {
      readonly kind: "syllable"
      readonly syllable: Omit<Syllable, "stanza">
      readonly sameNote: boolean
      readonly at: number
    }

export interface LyricLine {
  readonly stanza: number
  readonly steps: readonly LyricStep[]
}

const SYLLABLE = /(\/?)("(?:[^"\\]|\\.)*"|[^\s\-_~+"*/][^\s\-_~+"]*)([-_~]?)(\+?)/y
const PASS = /\*(\d{0,6})/y
const SPACE = /\s+/y
const LONE_JOIN = /[-_~]/y

/** Reads the whole line; `at` counts from its beginning. Letters that fit nowhere are told to `odd`. */
export function readLyricLine(line: string, odd: (at: number) => void): LyricLine {
  const start = line.indexOf(">") + 1
  const stanza = Number(line.slice(0, start - 1) || "1")
  const steps: LyricStep[] = []
  let sameNote = false
  let at = start
  const take = (pattern: RegExp) => {
    pattern.lastIndex = at
    const found = pattern.exec(line)
    if (found) at = pattern.lastIndex
    return found
  }
  while (at < line.length) {
    const from = at
    if (take(SPACE)) {
      sameNote &&= line[from - 1] === "+"
      continue
    }
    const pass = take(PASS)
    if (pass) {
      steps.push({ kind: "pass", notes: pass[1] ? Number(pass[1]) : 1, at: from })
      sameNote = false
      continue
    }
    const found = take(SYLLABLE)
    if (found) {
      const syllable = syllableOf(found)
      if (syllable.text === "") odd(from)
      steps.push(
        syllable.text === ""
          ? { kind: "pass", notes: 1, at: from }
          : { kind: "syllable", syllable, sameNote, at: from },
      )
      sameNote = found[3] === "~" || found[4] === "+"
      continue
    }
    const join = take(LONE_JOIN)
    if (!join || !joinLast(steps, join[0] as Syllable["join"])) {
      if (!join) at++
      odd(from)
    }
  }
  return { stanza, steps }
}

function syllableOf([, italic, text = "", join]: RegExpExecArray): Omit<Syllable, "stanza"> {
  return { text: tidy(unquote(text)), join: (join || " ") as Syllable["join"], ...(italic && { italic: true }) }
}

/** "Ky - ri - e": a join that stands apart belongs to the syllable before it. */
function joinLast(steps: LyricStep[], join: Syllable["join"]): boolean {
  const last = steps.at(-1)
  if (last?.kind !== "syllable") return false
  steps[steps.length - 1] = { ...last, syllable: { ...last.syllable, join } }
  return true
}

/** Whether a line of lyrics can say these syllables of one note: by stanzas, in order. */
export function fitsLyricLine(syllables: readonly Syllable[]): boolean {
  return syllables.every(({ stanza }, index) => {
    const before = syllables[index - 1]?.stanza ?? 1
    return Number.isInteger(stanza) && stanza >= before && stanza < 1000
  })
}

/** The syllables of one stanza on one note. */
export function writeSyllables(all: readonly Syllable[]): string {
  return all.map((one, index) => writeOne(one, index < all.length - 1)).join("")
}
const PLAIN = /^[^\s\-_~+"*/\\][^\s\-_~+"\\]*$/
function writeOne({ text, join, italic }: Syllable, moreOnNote: boolean): string {
  const glue = moreOnNote && join !== "~" ? "+" : ""
  return `${italic ? "/" : ""}${PLAIN.test(text) ? text : JSON.stringify(text)}${join === " " ? "" : join}${glue}`
}
