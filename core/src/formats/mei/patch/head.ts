/** What stands outside the staves: title, people, shapes, photographs and their regions. */
import type { Page } from "../../../page/index.js"
import { element as newElement } from "../../xml.js"
import type { Traced } from "../document.js"
import { fromName, toName } from "../tokens.js"
import { shapeXml, surfaceXml, zoneXml } from "../write/page.js"
import { newSymbolId } from "../write/writer.js"
import { attribute, childOf, elementsIn, type XmlElement } from "../xml.js"
import { same } from "../../../page/index.js"
import type { ElementPatcher } from "./element.js"
import { patchYears } from "./years.js"

export function patchHead(patcher: ElementPatcher, traced: Traced, page: Page): void {
  const old = traced.document.original
  const { root } = traced.reader
  if (old.title !== page.title) patchTitle(patcher, root, page.title)
  if (!same(old.people, page.people)) patchPeople(patcher, root, page)
  const header = childOf(root, "meiHead")
  if (header && !same(old.years, page.years)) patchYears(patcher, header, old, page)
  if (!same(old.shapes, page.shapes)) patchShapes(patcher, root, traced, page)
  if (!same(old.surfaces, page.surfaces) || !same(old.zones, page.zones)) patchFacsimile(patcher, root, old, page)
}

function first(root: XmlElement, ...names: string[]): XmlElement | undefined {
  for (const element of elementsIn(root)) if (names.includes(element.localName)) return element
  return undefined
}

function patchTitle(patcher: ElementPatcher, root: XmlElement, title: string): void {
  const statement = first(root, "titleStmt")
  const found = statement && childOf(statement, "title")
  if (found) patcher.setText(found, title)
  else if (statement) patcher.edits.insert(openOf(patcher, statement), patcher.text([newElement("title", {}, title)]))
}

/** Offset right after the start tag. An empty element has no inside; then it is right after it. */
function openOf(patcher: ElementPatcher, element: XmlElement): number {
  return patcher.spanOf(element).opened
}

function patchPeople(patcher: ElementPatcher, root: XmlElement, page: Page): void {
  const header = childOf(root, "meiHead")
  const known = new Map<string, XmlElement>()
  if (header)
    for (const element of elementsIn(header)) {
      const id = attribute(element, "xml:id")
      if (id !== undefined) known.set(fromName(id), element)
    }
  const statement = header && first(header, "titleStmt")
  for (const [id, name] of Object.entries(page.people ?? {})) {
    const element = known.get(id)
    if (!element && statement)
      patcher.edits.append(
        patcher.spanOf(statement),
        patcher.text([
          newElement(
            "respStmt",
            {},
            newElement("resp", {}, "Edition"),
            newElement("persName", { "xml:id": toName(id) }, name),
          ),
        ]),
      )
    else if (element?.localName === "persName" || element?.localName === "name") patcher.setText(element, name)
  }
}

function patchShapes(patcher: ElementPatcher, root: XmlElement, traced: Traced, page: Page): void {
  const symbols = new Map([...traced.reader.shapes].map(([id, shape]) => [shape.name, { id, shape }]))
  const elements = new Map(
    [...elementsIn(root)].filter(one => one.localName === "symbolDef").map(one => [attribute(one, "xml:id"), one]),
  )
  for (const [name, { id }] of symbols)
    if (!page.shapes.some(shape => shape.name === name)) patcher.remove(elements.get(id)!)
  const fresh = page.shapes.filter(shape => !symbols.has(shape.name))
  for (const shape of page.shapes) {
    const known = symbols.get(shape.name)
    if (!known || same(known.shape, shape)) continue
    const element = elements.get(known.id)!
    patcher.edits.insert(patcher.spanOf(element).start, patcher.text([shapeXml(shape, known.id)]))
    patcher.remove(element)
  }
  if (fresh.length === 0) return
  const written = fresh.map(shape => shapeXml(shape, newSymbolId(page, shape.name)))
  const table = first(root, "symbolTable")
  const scoreDef = first(root, "scoreDef")
  if (table) patcher.edits.append(patcher.spanOf(table), patcher.text(written))
  else if (scoreDef)
    patcher.edits.insert(openOf(patcher, scoreDef), patcher.text([newElement("symbolTable", {}, ...written)]))
}

function patchFacsimile(patcher: ElementPatcher, root: XmlElement, old: Page, page: Page): void {
  const elements = new Map<string, XmlElement>()
  for (const element of elementsIn(root))
    if (element.localName === "surface" || element.localName === "zone")
      elements.set(fromName(attribute(element, "xml:id") ?? ""), element)
  for (const one of [...old.zones, ...old.surfaces])
    if (![...page.zones, ...page.surfaces].some(other => other.id === one.id)) patcher.remove(elements.get(one.id)!)
  const newSurfaces = page.surfaces.filter(one => !old.surfaces.some(other => other.id === one.id))
  for (const surface of page.surfaces.filter(one => elements.has(one.id)))
    patchAttributes(
      patcher,
      elements.get(surface.id)!,
      old.surfaces.find(one => one.id === surface.id),
      surface,
      surfaceXml,
    )
  for (const zone of page.zones) {
    const element = elements.get(zone.id)
    const surface = elements.get(zone.surface)
    if (element)
      patchAttributes(
        patcher,
        element,
        old.zones.find(one => one.id === zone.id),
        zone,
        zoneXml,
      )
    else if (surface) patcher.edits.append(patcher.spanOf(surface), patcher.text([zoneXml(zone)]))
  }
  if (newSurfaces.length === 0) return
  const text = patcher.text(
    newSurfaces.map(surface =>
      surfaceXml(
        surface,
        page.zones.filter(zone => zone.surface === surface.id && !elements.has(zone.id)),
      ),
    ),
  )
  const facsimile = first(root, "facsimile")
  const music = childOf(root, "music")
  if (facsimile) patcher.edits.append(patcher.spanOf(facsimile), text)
  else if (music)
    patcher.edits.insert(
      openOf(patcher, music),
      patcher.text([newElement("facsimile")]).replace("/>", `>${text}</facsimile>`),
    )
}

function patchAttributes<T>(
  patcher: ElementPatcher,
  element: XmlElement,
  old: T | undefined,
  now: T,
  write: (one: T) => ReturnType<typeof zoneXml>,
): void {
  if (!old || same(old, now)) return
  const [before, after] = [write(old), write(now)]
  for (const name of new Set([...Object.keys(before.attributes), ...Object.keys(after.attributes)]))
    if (before.attributes[name] !== after.attributes[name]) patcher.set(element, name, after.attributes[name])
}
