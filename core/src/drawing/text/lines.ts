/** Words broken into lines. */
import type { TypeStyle } from "../scene/scene.js"
import { textWidth } from "./width.js"

/** Lines of at most so much; a word that is longer has one of its own. */
export function wrapped(text: string, type: TypeStyle, room: number): string[] {
  const lines: string[] = []
  let line = ""
  for (const word of text.split(/\s+/)) {
    const longer = line === "" ? word : `${line} ${word}`
    if (line !== "" && textWidth(longer, type) > room) {
      lines.push(line)
      line = word
    } else line = longer
  }
  return line === "" ? lines : [...lines, line]
}

/** The same number of lines, but of about one length, so that no single word is left for the last. */
export function balanced(text: string, type: TypeStyle, room: number): string[] {
  const usual = wrapped(text, type, room)
  for (let part = 1 / usual.length; part < 1; part += 0.05) {
    const lines = wrapped(text, type, room * part)
    if (lines.length === usual.length && lines.every(line => textWidth(line, type) <= room)) return lines
  }
  return usual
}

export interface Title {
  readonly lines: readonly string[]
  readonly type: TypeStyle
}

/** A title too long for its line is set smaller, down to this part of its size; what is longer still stands in several lines. */
const SMALLEST = 0.7

export function titleIn(text: string, type: TypeStyle, room: number): Title {
  const sized = (words: string): TypeStyle => ({
    ...type,
    size: type.size * Math.min(1, room / Math.max(1e-9, textWidth(words, type))),
  })
  const one = sized(text)
  if (one.size >= type.size * SMALLEST) return { lines: [text], type: one }
  const least = { ...type, size: type.size * SMALLEST }
  const lines = balanced(text, least, room)
  // a word that is longer than a line
  const widest = lines.reduce((a, b) => (textWidth(b, type) > textWidth(a, type) ? b : a), "")
  return { lines, type: textWidth(widest, least) > room ? sized(widest) : least }
}
