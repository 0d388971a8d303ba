/** Years of pieces and sources, and what words may say them. */

/** Earliest and latest year, the first not after the second. */
export type YearSpan = readonly [from: number, to: number]

/** When a piece was made, and its source copied. At least one of the two is there. */
export interface Years {
  readonly made?: YearSpan
  readonly copied?: YearSpan
}

/** Years of mensural notation; others are those of a file or an edition. */
export const FIRST_YEAR = 1150
export const LAST_YEAR = 1650
/** "c." before a year: so many years on either side. */
const ABOUT = 10

export const isYear = (year: number): boolean => Number.isInteger(year) && year >= FIRST_YEAR && year <= LAST_YEAR

/** "1317", "c. 1320", "1315-25", "14th century"; undefined where a text says no years of mensural notation. */
export function spanInWords(text: string): YearSpan | undefined {
  const century = /\b(1[2-7])th\s+c/i.exec(text)
  if (century) return within(100 * (Number(century[1]) - 1), 100 * Number(century[1]) - 1)
  const years = /\b(1[1-6]\d\d)(?!\d)(?:\s*(?:[-–—/]|to|and)\s*(1[1-6]\d\d|\d\d)\b)?/.exec(text)
  if (!years) return undefined
  const first = Number(years[1])
  const second = secondYear(first, years[2])
  if (!isYear(first) || !isYear(second)) return undefined
  const about = /\b(c|ca|circa|about)\b\.?\s*1/i.test(text) ? ABOUT : 0
  return within(Math.min(first, second) - about, Math.max(first, second) + about)
}

/** "25" after 1315 is 1325; "06" after it can only be a month. */
function secondYear(first: number, said: string | undefined): number {
  if (said === undefined) return first
  return said.length === 2 ? Math.max(first, first - (first % 100) + Number(said)) : Number(said)
}

const within = (from: number, to: number): YearSpan => [Math.max(FIRST_YEAR, from), Math.min(LAST_YEAR, to)]

/** "1317", "1315-1325". */
export const spanText = ([from, to]: YearSpan): string => (from === to ? `${from}` : `${from}-${to}`)
