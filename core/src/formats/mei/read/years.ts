/** When a piece was made, and when its source was written, as the head of a file says it: for telling its practice. */
import { FIRST_YEAR, LAST_YEAR, spanInWords, type Years, type YearSpan } from "../../../page/index.js"
import { attribute, childrenOf, elementsIn, textIn, type XmlElement } from "../xml.js"

/** MEI's attributes for a date that any element may have. */
export const DATING = ["isodate", "notbefore", "notafter", "startdate", "enddate"] as const

export function readYears(header: XmlElement | undefined): Years | undefined {
  if (header === undefined) return undefined
  const { made, copied } = datedElements(header)
  const years = { ...spanned("made", made), ...spanned("copied", copied) }
  return Object.keys(years).length > 0 ? years : undefined
}

/** The elements that say the years. */
export function datedElements(header: XmlElement): Readonly<Record<keyof Years, readonly XmlElement[]>> {
  const all = [...elementsIn(header)]
  // a file may hold many a work: the first is what the music is of
  const work = all.find(one => one.localName === "work")
  const sources = all.filter(one => one.localName === "source" || one.localName === "manifestation")
  const says = (one: XmlElement): boolean => spanOf(one) !== undefined
  return {
    made: work ? childrenOf(work).flatMap(datesOf).filter(says) : [],
    copied: [...new Set(sources.flatMap(datesIn))].filter(says),
  }
}

const datesIn = (within: XmlElement): XmlElement[] => [...elementsIn(within)].filter(one => one.localName === "date")

/** Of a part of a work. */
function datesOf(part: XmlElement): XmlElement[] {
  if (part.localName === "history") return datesIn(part)
  if (part.localName !== "creation") return []
  return DATING.some(name => attribute(part, name) !== undefined) ? [part, ...datesIn(part)] : datesIn(part)
}

/** What attributes say; failing them, the text of a date. */
function spanOf(element: XmlElement): YearSpan | undefined {
  const year = (...names: string[]): number | undefined => {
    const said = names.map(name => attribute(element, name)).find(one => one !== undefined)
    const digits = said === undefined ? undefined : /^\d{3,4}(?!\d)/.exec(said)?.[0]
    return digits === undefined ? undefined : Number(digits)
  }
  const one = year("isodate")
  const from = one ?? year("notbefore", "startdate")
  const to = one ?? year("notafter", "enddate")
  const stated = from === undefined && to === undefined ? undefined : spanBetween(from ?? to!, to ?? from!)
  return stated ?? (element.localName === "date" ? spanInWords(textIn(element)) : undefined)
}

/** As much of the years between as is of mensural notation. */
function spanBetween(a: number, b: number): YearSpan | undefined {
  const [from, to] = [Math.max(FIRST_YEAR, Math.min(a, b)), Math.min(LAST_YEAR, Math.max(a, b))]
  return from <= to ? [from, to] : undefined
}

/** From the earliest to the latest. */
function spanned(kind: keyof Years, elements: readonly XmlElement[]): Years {
  const spans = elements.map(spanOf).filter(span => span !== undefined)
  if (spans.length === 0) return {}
  return { [kind]: [Math.min(...spans.map(one => one[0])), Math.max(...spans.map(one => one[1]))] }
}
