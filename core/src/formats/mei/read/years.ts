/** When a piece was made, and when its source was written, as the head of a file says it: for telling its practice. */
import type { Years } from "../../../page/index.js"
import { attribute, childrenOf, elementsIn, textIn, type XmlElement } from "../xml.js"

type Span = readonly [from: number, to: number]

/** Years of mensural notation; others are those of a file or an edition. */
const FIRST = 1150
const LAST = 1650
/** "c." before a year: so many years on either side. */
const ABOUT = 10

export function readYears(header: XmlElement | undefined): Years | undefined {
  if (header === undefined) return undefined
  const all = [...elementsIn(header)]
  // a file may hold many a work: the first is what the music is of
  const work = all.find(one => one.localName === "work")
  const made = work && datesIn(work, new Set(["creation", "history"]))
  const sources = all.filter(one => one.localName === "source" || one.localName === "manifestation")
  const copied = sources.flatMap(source => spansIn(elementsNamed(source, "date")))
  const years = { ...spanned("made", made ?? []), ...spanned("copied", copied) }
  return Object.keys(years).length > 0 ? years : undefined
}

const datesIn = (within: XmlElement, parents: ReadonlySet<string>): Span[] =>
  childrenOf(within)
    .filter(child => parents.has(child.localName))
    .flatMap(child => spansIn(elementsNamed(child, "date")))

const elementsNamed = (within: XmlElement, name: string): XmlElement[] =>
  [...elementsIn(within)].filter(one => one.localName === name)

const spansIn = (dates: readonly XmlElement[]): Span[] => dates.map(spanOf).filter(span => span !== undefined)

/** What attributes say; failing them, the text. */
function spanOf(date: XmlElement): Span | undefined {
  const year = (...names: string[]): number | undefined => {
    const said = names.map(name => attribute(date, name)).find(one => one !== undefined)
    const found = said === undefined ? NaN : Number(/^\d{3,4}/.exec(said.trim())?.[0])
    return isYear(found) ? found : undefined
  }
  const one = year("isodate")
  const from = one ?? year("notbefore", "startdate")
  const to = one ?? year("notafter", "enddate")
  if (from !== undefined || to !== undefined) return ordered(from ?? to!, to ?? from!)
  return spanInWords(textIn(date))
}

const isYear = (year: number): boolean => year >= FIRST && year <= LAST
const ordered = (a: number, b: number): Span => [Math.min(a, b), Math.max(a, b)]

/** "1317", "c. 1320", "1315-25", "14th century". */
export function spanInWords(text: string): Span | undefined {
  const century = /\b(1[2-7])th\s+c/i.exec(text)
  if (century) return [100 * (Number(century[1]) - 1), 100 * Number(century[1]) - 1]
  const years = /\b(1[1-6]\d\d)(?!\d)(?:\s*(?:[-–—/]|to|and)\s*(1[1-6]\d\d|\d\d)\b)?/.exec(text)
  if (!years) return undefined
  const first = Number(years[1])
  const second =
    years[2] === undefined ? first : years[2].length === 2 ? first - (first % 100) + Number(years[2]) : Number(years[2])
  if (!isYear(first) || !isYear(second)) return undefined
  const about = /\b(c|ca|circa|about)\b\.?\s*1/i.test(text) ? ABOUT : 0
  const [from, to] = ordered(first, second)
  return [from - about, to + about]
}

/** From the earliest to the latest. */
function spanned(kind: keyof Years, spans: readonly Span[]): Years {
  if (spans.length === 0) return {}
  return { [kind]: [Math.min(...spans.map(one => one[0])), Math.max(...spans.map(one => one[1]))] }
}
