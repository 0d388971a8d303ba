/** For tests: tenors of our own making, from a melody and a rhythm that go round and round. */
import { parseShorthand, type Page } from "../../../page/index.js"
import { readVoice, type Reading } from "../../../reading/index.js"
import { findRepetition, type Repetition } from "../index.js"

/** Words of the shorthand, one for each note or rest: "L d3", "rB". */
export type Word = string

/** The rhythm with pitches laid over its notes; `at`: pitches that were used before. */
export function sung(rhythm: readonly string[], melody: readonly string[], at = 0): Word[] {
  let used = at
  return rhythm.map(level => (level.startsWith("r") ? level : `${level} ${melody[used++ % melody.length]}`))
}

const SMALLER: Record<string, string> = { Mx: "L", L: "B", B: "S", S: "M" }

/** Each level replaced by the next smaller; rests too. */
export const diminished = (rhythm: readonly string[]): string[] =>
  rhythm.map(level => level.replace(/^(r?)(\w+?)\d*$/, (_, rest: string, name: string) => `${rest}${SMALLER[name]}`))

const NOVA = "ars-nova\nclef:C4 mens:modusmaior=2:modus=2:tempus=2:prolatio=2"

/** A page with this tenor alone. */
export function tenorPage(words: readonly Word[], practice = NOVA): Page {
  const text = `title: Of our own making\n\nvoice tenor black practice=${practice}\n${words.join(" ")}\n`
  const read = parseShorthand(text)
  if (!read.ok || read.problems.length > 0) throw new Error(`${text}\n${JSON.stringify(read.problems)}`)
  return read.value
}

/** The tenor of these words, read, and what was found in it. */
export function look(words: readonly Word[], practice?: string): { reading: Reading; found: Repetition; page: Page } {
  const page = tenorPage(words, practice)
  const reading = readVoice(page.voices[0]!)
  return { page, reading, found: findRepetition(page, reading) }
}
