/** What the head of an MEI file says of the piece and its source: for a title page, as text. */
import { attribute, childrenOf, elementsIn, parseXml, textIn, type XmlElement } from "./xml.js"

export interface MeiHead {
  readonly title: string
  /** Further titles, subtitles. */
  readonly subtitles: readonly string[]
  readonly composers: readonly string[]
  /** Who wrote the words. */
  readonly poets: readonly string[]
  readonly editors: readonly string[]
  /** Of the piece, as written. */
  readonly date: string
  /** A line for each source: title, place, shelfmark, date. */
  readonly sources: readonly string[]
  /** What may be done with the file. */
  readonly rights: string
}

export const NO_HEAD: MeiHead = {
  title: "",
  subtitles: [],
  composers: [],
  poets: [],
  editors: [],
  date: "",
  sources: [],
  rights: "",
}

/** Of the text of a file; an empty head where there is none, or the file cannot be read. */
export function meiHead(text: string): MeiHead {
  const parsed = parseXml(text)
  const head = parsed.ok ? first(parsed.value.root, ["meiHead"]) : undefined
  return head ? headOf(head) : NO_HEAD
}

function headOf(head: XmlElement): MeiHead {
  const file = first(head, ["titleStmt"])
  const work = first(head, ["work"])
  const titles = unique([...titlesIn(file), ...titlesIn(work)])
  return {
    title: titles[0] ?? "",
    subtitles: titles.slice(1),
    composers: people([file, work], "composer"),
    poets: unique([...people([file, work], "lyricist"), ...people([file, work], "author")]),
    editors: people([file], "editor"),
    date: dateIn(work && first(work, ["creation"])),
    sources: sourcesIn(head),
    rights: said(first(head, ["useRestrict", "availability"])),
  }
}

const unique = (texts: readonly string[]): string[] => [...new Set(texts.filter(text => text !== ""))]
const said = (element: XmlElement | undefined): string => (element ? textIn(element).replace(/\s+/g, " ").trim() : "")

function first(within: XmlElement, names: readonly string[]): XmlElement | undefined {
  for (const element of elementsIn(within)) if (names.includes(element.localName)) return element
  return undefined
}
const titlesIn = (within: XmlElement | undefined): string[] =>
  within ? childrenOf(within).flatMap(child => (child.localName === "title" ? [said(child)] : [])) : []

/** Elements of this name, and names in a respStmt whose role or resp says so. */
function people(within: readonly (XmlElement | undefined)[], role: string): string[] {
  return unique(
    within.flatMap(statement => {
      if (!statement) return []
      const direct = childrenOf(statement).filter(child => child.localName === role)
      const named = [...elementsIn(statement)].filter(one => NAMES.has(one.localName) && roleOf(one) === role)
      return [...direct, ...named].map(said)
    }),
  )
}
const NAMES = new Set(["persName", "name", "corpName"])

function roleOf(name: XmlElement): string {
  const own = attribute(name, "role")
  if (own !== undefined) return own.toLowerCase().trim()
  const parent = name.parentNode as XmlElement | null
  if (parent?.localName !== "respStmt") return ""
  const resp = childrenOf(parent).find(child => child.localName === "resp")
  return resp ? said(resp).toLowerCase() : ""
}

/** "c. 1400", or what the attributes of an empty date say. */
function dateIn(within: XmlElement | undefined): string {
  const date = within && first(within, ["date"])
  if (!date) return ""
  const attributes = ["isodate", "startdate", "notbefore", "enddate", "notafter"].map(name => attribute(date, name))
  const [single, ...ends] = attributes
  return said(date) || single || unique(ends.filter(end => end !== undefined)).join("–")
}

const SOURCES = new Set(["source", "manifestation"])
function sourcesIn(head: XmlElement): string[] {
  const lines = [...elementsIn(head)].filter(one => SOURCES.has(one.localName)).map(sourceLine)
  return unique(lines)
}

/** Its parts as a catalogue would put them; all of its text where it has none of these. */
function sourceLine(source: XmlElement): string {
  const parts = [
    said(first(source, ["title"])),
    said(first(source, ["repository"])),
    ...[...elementsIn(source)].filter(one => one.localName === "identifier").map(said),
    dateIn(source),
  ]
  const found: string[] = []
  // a repository holds its own identifier: what has been said is not said again
  for (const part of parts) if (part !== "" && !found.some(one => one.includes(part))) found.push(part)
  return found.length > 0 ? found.join(", ") : said(source)
}
