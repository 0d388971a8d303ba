/** A series in words and as a table: what a person is shown of color and talea. */
import type { SignId } from "../../base/index.js"
import type { Reading } from "../../reading/index.js"
import type { Difference, Series, Statement } from "./types.js"

/** "Color: 14 pitches, 2 statements". */
export function seriesInWords({ of, by, places, statements }: Series): string {
  const what = of === "color" ? "pitches" : "notes and rests"
  const how = by === "durations" ? ", compared by their durations" : ""
  return `${of === "color" ? "Color" : "Talea"}: ${places.length} ${what}, ${statements.length} statements${how}`
}

/** A place of the series, or room for a sign that only some statement has. */
export interface SeriesColumn {
  readonly head: string
  readonly sign: (statement: Statement) => SignId | null | undefined
}

/** A column for every place, and for signs that only some statement has. */
export function seriesColumns({ places, statements }: Series): SeriesColumn[] {
  return places.flatMap((_, place) => {
    const extras = Math.max(0, ...statements.map(one => one.extra.filter(({ before }) => before === place).length))
    const room = Array.from({ length: extras }, (_, at): SeriesColumn => {
      const sign = (one: Statement) => one.extra.filter(({ before }) => before === place)[at]?.sign
      return { head: "+", sign }
    })
    return [...room, { head: String(place + 1), sign: one => one.signs[place] }]
  })
}

export interface DifferenceInWords {
  readonly sign: SignId
  readonly text: string
}
/** A sentence for each difference; of two signs that only contradict each other, one for both. */
export function differencesInWords(reading: Reading, series: Series): DifferenceInWords[] {
  const numbers = new Map(reading.signs.map(sign => [sign.id, sign.number]))
  const nameOf = (sign: SignId) => `${reading.label} ${numbers.get(sign) ?? "?"}`
  const told = new Set<SignId>()
  return series.differences.flatMap(one => {
    if (!one.odd && one.fellows.length > 0 && one.fellows.every(fellow => told.has(fellow))) return []
    told.add(one.sign)
    return [{ sign: one.sign, text: `${placeOf(one, series, nameOf)}: ${whatDiffers(one, nameOf)}` }]
  })
}

function placeOf(
  { statement, place, sign, kind }: Difference,
  series: Series,
  nameOf: (sign: SignId) => string,
): string {
  const name = kind === "missing" ? `after ${nameOf(sign)}` : nameOf(sign)
  return `${name} (${series.of} ${statement}, place ${place + 1})`
}

function whatDiffers({ kind, own, others, fellows, odd }: Difference, nameOf: (sign: SignId) => string): string {
  const who = odd
    ? "the others have"
    : `${fellows.slice(0, 3).map(nameOf).join(", ")} ${fellows.length > 1 ? "have" : "has"}`
  const open = odd ? "" : "; which of them is at fault cannot be told from this"
  if (kind === "missing") return `nothing stands where ${who} ${others}${open}`
  if (kind === "extra") return `a ${own} too many${odd ? "" : ", or one too few in the other statement"}`
  if (kind === "duration")
    return `it lasts ${own}; as in ${odd ? "the others" : nameOf(fellows[0]!)} it would last ${others}${open}`
  return `${own}, where ${who} ${others}${open}`
}
