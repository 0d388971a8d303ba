/** What stands outside the music: people and sources, local shapes, photographs. */
import { ratio } from "../../../base/index.js"
import { LEVELS, type LocalShape, type Surface, type Zone } from "../../../page/index.js"
import { fromName, splitTokens, tokenPart, tokenParts } from "../tokens.js"
import { attribute, childOf, childrenOf, elementsIn, textIn, type XmlElement } from "../xml.js"
import { rationalFrom, trim, type Reader } from "./reader.js"

const PEOPLE = new Set(["persName", "name", "corpName", "source", "manifestation"])

/** Names of editors and sources by their ids. */
export function readPeople(header: XmlElement | undefined): Record<string, string> | undefined {
  const people = new Map<string, string>()
  if (header)
    for (const element of elementsIn(header)) {
      const id = attribute(element, "xml:id")
      if (id !== undefined && PEOPLE.has(element.localName))
        people.set(fromName(id), textIn(titleIn(element) ?? element) || attribute(element, "label") || id)
    }
  return people.size > 0 ? Object.fromEntries(people) : undefined
}

function titleIn(source: XmlElement): XmlElement | undefined {
  if (source.localName !== "source" && source.localName !== "manifestation") return undefined
  for (const element of elementsIn(source)) if (element.localName === "title") return element
  return undefined
}

export function readShapes(reader: Reader, music: XmlElement): void {
  for (const element of elementsIn(music)) {
    if (element.localName === "section") return
    if (element.localName === "symbolDef") readShape(reader, element)
  }
}

function readShape(reader: Reader, element: XmlElement): void {
  const id = attribute(element, "xml:id")
  if (id === undefined || reader.shapes.has(id)) return
  const tokens = splitTokens(attribute(element, "type"))
  const named = childOf(element, "symName")
  const annot = childOf(element, "annot")
  const symbol = childOf(element, "symbol")
  const level = LEVELS.find(one => one === tokenPart(tokens, "level"))
  const count = Number(tokenPart(tokens, "count"))
  const shape: LocalShape = trim({
    name: (named && textIn(named)) || attribute(element, "label") || id,
    description: (annot && textIn(annot)) || undefined,
    level,
    count: Number.isSafeInteger(count) && count > 0 ? count : undefined,
    minims: rationalFrom(tokenParts(tokens, "minims"), ratio),
    glyph: symbol && attribute(symbol, "glyph.name"),
  })
  reader.shapes.set(id, shape)
}

export function readFacsimile(reader: Reader, music: XmlElement): { surfaces: Surface[]; zones: Zone[] } {
  const surfaces: Surface[] = []
  const zones: Zone[] = []
  for (const facsimile of childrenOf(music).filter(child => child.localName === "facsimile"))
    for (const element of childrenOf(facsimile).filter(child => child.localName === "surface")) {
      const surface = readSurface(reader, element, `surface-${surfaces.length + 1}`)
      surfaces.push(surface)
      for (const inner of elementsIn(element)) {
        const box = inner.localName === "zone" ? boxOf(reader, inner) : undefined
        const id = attribute(inner, "xml:id")
        if (box && id) zones.push({ id: fromName(id), surface: surface.id, box })
      }
    }
  return { surfaces, zones }
}

function readSurface(reader: Reader, element: XmlElement, otherwise: string): Surface {
  const graphic = childOf(element, "graphic")
  return trim({
    id: fromName(attribute(element, "xml:id") ?? otherwise),
    label: attribute(element, "label"),
    image: graphic && attribute(graphic, "target"),
    box: boxOf(reader, element),
  })
}

function boxOf(reader: Reader, element: XmlElement): [number, number, number, number] | undefined {
  const sides = ["ulx", "uly", "lrx", "lry"].map(name => reader.whole(element, name, -999999, 999999))
  return sides.every(side => side !== undefined) ? (sides as [number, number, number, number]) : undefined
}
