/** Ids of the modern score: those of the page, made fit for XML where they must be. */

const FIRST =
  "A-Z_a-z\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u02ff\\u0370-\\u037d\\u037f-\\u1fff\\u2070-\\u218f\\u2c00-\\u2fef\\u3001-\\ud7ff"
const LATER = `${FIRST}0-9.\\u00b7\\u0300-\\u036f\\u203f-\\u2040-`
const NAME = new RegExp(`^[${FIRST}][${LATER}]*$`)
const STRANGE = new RegExp(`[^${LATER}]`, "g")

/**
 * The `xml:id` under which a sign of the page stands in modern MEI, SVG and everything made from them: its own, or, where
 * XML would not take it as a name, with an "s" before it and "_" for what no name may hold ("1.12" becomes "s1.12").
 * A note that is split keeps it for its first part.
 */
export function scoreId(id: string): string {
  return NAME.test(id) ? id : `s${id.replace(STRANGE, "_")}`
}

/** Part 0 has the id of the sign, those after it have ".part2", ".part3" … */
export function partId(id: string, part: number): string {
  return part === 0 ? scoreId(id) : `${scoreId(id)}.part${part + 1}`
}

/** Id of the small note that a plica becomes. */
export function plicaId(id: string): string {
  return `${scoreId(id)}.plica`
}

/** Id of the bar, or stretch of bars, with this number. */
export function barId(n: number): string {
  return `bar..${n}`
}

/** Number of the bar with this id; undefined of anything else. */
export function barNumber(id: string): number | undefined {
  const found = /^bar\.\.(\d+)$/.exec(id)?.[1]
  return found === undefined ? undefined : Number(found)
}
