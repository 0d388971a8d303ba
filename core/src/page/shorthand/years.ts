/** The line that says when the piece was made and its source copied, both ways. */
import { FIRST_YEAR, LAST_YEAR, spanInWords, spanText, type Years, type YearSpan } from "../years.js"
import type { Words } from "./header.js"
import { pair } from "./tokens.js"

const YEARS = 'years made=1315-1325 copied="14th century"'

/** Undefined where nothing is said that can be read; that is reported. */
export function readYears(words: Words): Years | undefined {
  const isSaid = words.has("made") || words.has("copied")
  const made = readSpan(words, "made")
  const copied = readSpan(words, "copied")
  if (!isSaid) words.missing("year", YEARS, "line")
  words.end(YEARS)
  return made || copied ? { ...(made && { made }), ...(copied && { copied }) } : undefined
}

function readSpan(words: Words, name: keyof Years): YearSpan | undefined {
  const word = words.take(name)
  const span = word?.value !== undefined && SPAN.test(word.value) ? spanInWords(word.value) : undefined
  if (word && !span)
    words.bad(
      word,
      `${name}=1317, ${name}=1315-1325 or ${name}="14th century"; years go from ${FIRST_YEAR} to ${LAST_YEAR}.`,
    )
  return span
}

/** Nothing else may stand beside the years: it would be lost. */
const SPAN =
  /^(?:1[2-7]th\s+c(?:entury|\.)?|(?:(?:c|ca|circa|about)\b\.?\s*)?\d{4}(?:\s*(?:[-–—/]|to|and)\s*(?:\d{4}|\d\d))?)$/i

export function writeYears({ made, copied }: Years): string {
  return [
    "years",
    ...(made ? [pair("made", spanText(made))] : []),
    ...(copied ? [pair("copied", spanText(copied))] : []),
  ].join(" ")
}
