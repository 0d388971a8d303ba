/** A page as a new MEI 5.1 file. */
import {
  everySign,
  type Editorial,
  type LocalShape,
  type Mark,
  type Page,
  type Sign,
  type Surface,
  type Voice,
  type Zone,
} from "../../../page/index.js"
import { element, xmlDocument, type XmlElement } from "../../xml.js"
import { isName, toName, token } from "../tokens.js"
import { mensurationXml, pointingMarkXml, runXml, signatureXml, signXml, bareSignXml } from "./signs.js"
import { Choices } from "./choices.js"
import { decisionXml } from "./decisions.js"
import { Writer } from "./writer.js"
import { manifestationListXml, workListXml } from "./years.js"

const NAMESPACE = "http://www.music-encoding.org/ns/mei"

/** Writes the whole page as a file that is valid against MEI 5.1's mensural schema; `readMei` gives the same page. */
export function newMei(page: Page): string {
  const first = writerFor(page)
  const root = rootXml(page, first)
  const { written } = first.choices
  const isInOrder = page.alternatives.every((one, index) => written[index] === one)
  return xmlDocument(isInOrder ? root : rootXml(page, writerFor(page, undefined, true)))
}

function rootXml(page: Page, writer: Writer): XmlElement {
  const score = element("score", {}, scoreDefXml(writer, page), sectionXml(writer, page))
  return element(
    "mei",
    { xmlns: NAMESPACE, meiversion: "5.1" },
    headXml(page),
    element("music", {}, facsimileXml(page), element("body", {}, element("mdiv", {}, score))),
  )
}

/**
 * A writer that knows the page's shapes, choices, and the ids a reader gives by itself. `numbered`: other readings say
 * which one of all they are.
 */
export function writerFor(page: Page, symbols?: ReadonlyMap<string, string>, numbered = false): Writer {
  const choices: Choices = new Choices(
    page,
    {
      one: (sign, bare, bodyEnd) => (bare ? bareSignXml : signXml)(writer, sign, bodyEnd),
      run: signs => runXml(writer, signs),
    },
    numbered,
  )
  const writer: Writer = new Writer(page, runningIds(page), choices, symbols)
  return writer
}

/** Ids that are the number of the voice, point, running number: those a reader gives to signs without one. */
function runningIds(page: Page): Set<string> {
  const natural = new Set<string>()
  for (const voice of page.voices) {
    let running = 0
    for (const sign of everySign(voice.signs)) if (sign.id === `${voice.n}.${++running}`) natural.add(sign.id)
  }
  return natural
}

function headXml(page: Page): XmlElement {
  const sources = sourcesIn(page)
  const people = Object.entries(page.people ?? {})
  const names = people
    .filter(([id]) => !sources.has(id))
    .map(([id, name]) => element("persName", { "xml:id": toName(id) }, name))
  const used = people
    .filter(([id]) => sources.has(id))
    .map(([id, name]) => element("source", { "xml:id": toName(id) }, element("bibl", {}, element("title", {}, name))))
  const respStmt = names.length > 0 ? element("respStmt", {}, element("resp", {}, "Edition"), ...names) : undefined
  return element(
    "meiHead",
    {},
    element(
      "fileDesc",
      {},
      element("titleStmt", {}, element("title", {}, page.title || undefined), respStmt),
      element("pubStmt", {}),
      used.length > 0 ? element("sourceDesc", {}, ...used) : undefined,
    ),
    workListXml(page.title, page.years),
    manifestationListXml(page.years),
  )
}

function sourcesIn(page: Page): Set<string> {
  const signs = [...page.voices.map(voice => voice.signs), ...page.alternatives.map(one => one.signs)]
  const hands: (Editorial | undefined)[] = [
    ...page.alternatives.map(one => one.editorial),
    ...signs.flatMap(run => [...everySign(run)].map(sign => sign.editorial)),
  ]
  return new Set(hands.flatMap(hand => hand?.source ?? []))
}

function facsimileXml(page: Page): XmlElement | undefined {
  if (page.surfaces.length === 0) return undefined
  const zonesOf = (surface: Surface) => page.zones.filter(zone => zone.surface === surface.id)
  return element("facsimile", {}, ...page.surfaces.map(surface => surfaceXml(surface, zonesOf(surface))))
}

const sides = ([ulx, uly, lrx, lry]: Zone["box"]) => ({ ulx, uly, lrx, lry })

export function surfaceXml({ id, label, image, box }: Surface, zones: readonly Zone[] = []): XmlElement {
  return element(
    "surface",
    { "xml:id": toName(id), label, ...(box ? sides(box) : {}) },
    image === undefined ? undefined : element("graphic", { target: image }),
    ...zones.map(zoneXml),
  )
}

export function zoneXml({ id, box }: Zone): XmlElement {
  return element("zone", { "xml:id": toName(id), ...sides(box) })
}

function scoreDefXml(writer: Writer, page: Page): XmlElement {
  const shapes = page.shapes.map(shape => shapeXml(shape, writer.symbols.get(shape.name)!))
  const table = shapes.length > 0 ? element("symbolTable", {}, ...shapes) : undefined
  const staves = page.voices.map((voice, index) => staffDefXml(writer, voice, staffNumber(page, index)))
  return element("scoreDef", {}, table, element("staffGrp", {}, ...staves))
}

export function shapeXml({ name, description, level, count, minims, glyph }: LocalShape, id: string): XmlElement {
  const words = [
    ...(level === undefined ? [] : [token("level", level)]),
    ...(count === undefined ? [] : [token("count", count)]),
    ...(minims === undefined ? [] : [token("minims", minims.num, minims.den)]),
  ]
  return element(
    "symbolDef",
    { "xml:id": id, type: words.join(" ") || undefined },
    element("symName", {}, name),
    glyph === undefined ? undefined : element("symbol", { "glyph.auth": "smufl", "glyph.name": glyph }),
    description === undefined ? undefined : element("annot", {}, description),
  )
}

/** A staff's number must be a whole number; voices that have none are numbered after the largest. */
function staffNumber(page: Page, index: number): string {
  const isNumber = (n: string) => /^[1-9]\d{0,5}$/.test(n)
  const { n } = page.voices[index]!
  if (isNumber(n) && page.voices.findIndex(voice => voice.n === n) === index) return n
  const largest = Math.max(0, ...page.voices.map(voice => (isNumber(voice.n) ? Number(voice.n) : 0)))
  return String(largest + 1 + index)
}

const RANK = { clef: 0, signature: 1, mensuration: 2 } as const

/** The signs that go into the definition of the voice: those at its beginning that say so, in the order it gives them. */
function initialCount(voice: Voice): number {
  let rank = 0
  let count = 0
  for (const sign of voice.signs) {
    if (sign.kind !== "clef" && sign.kind !== "signature" && sign.kind !== "mensuration") break
    if (!sign.initial || sign.editorial || RANK[sign.kind] < rank) break
    rank = RANK[sign.kind]
    count++
  }
  return count
}

export function staffDefXml(writer: Writer, voice: Voice, n: string): XmlElement {
  const { id, label, lines, staffColour, notation, practice } = voice
  const subtype = practice?.name.replace(/[^\p{L}\p{N}_]/gu, ".")
  const words = [
    ...(voice.n === n ? [] : [token("n", voice.n)]),
    ...(id === voice.n || isName(id) ? [] : [token("id", id)]),
    ...(!practice || subtype?.replaceAll(".", "-") === practice.name ? [] : [token("practice", practice.name)]),
    ...Object.entries(practice?.options ?? {}).map(([name, value]) => token("option", name, value)),
  ]
  const notationtype = notation === "unknown" ? "mensural" : `mensural.${notation}`
  const attributes = {
    "xml:id": id !== voice.n && isName(id) ? id : undefined,
    n,
    label: label === voice.n ? undefined : label,
    lines,
    "lines.color": staffColour,
    notationtype,
    notationsubtype: subtype,
    type: words.join(" ") || undefined,
  }
  return element(
    "staffDef",
    attributes,
    ...voice.signs.slice(0, initialCount(voice)).flatMap(sign => initialXml(writer, sign)),
  )
}

export function initialXml(writer: Writer, sign: Sign): XmlElement[] {
  if (sign.kind === "mensuration") return mensurationXml(writer, sign, true)
  if (sign.kind === "signature") return [signatureXml(writer.common(sign, "keySig"), sign)]
  const { initial: _, ...clef } = sign as Extract<Sign, { kind: "clef" }>
  return bareSignXml(writer, clef)
}

function sectionXml(writer: Writer, page: Page): XmlElement {
  return element(
    "section",
    {},
    ...page.voices.map((voice, index) => staffXml(writer, voice, staffNumber(page, index), page)),
    ...(page.decisions ?? []).map(decisionXml),
  )
}

export function staffXml(writer: Writer, voice: Voice, n: string, page: Page): XmlElement {
  const written = voice.signs.slice(initialCount(voice))
  const pointing: { mark: Mark; startid: string }[] = []
  const inLayer = written.filter((sign, at) => {
    const startid = isFree(writer, sign) ? anchorAfter(writer, written, at) : undefined
    if (sign.kind === "mark" && startid !== undefined) pointing.push({ mark: sign, startid })
    return startid === undefined
  })
  const run = runXml(writer, inLayer)
  const met = new Set(writer.choices.written)
  const alone = page.alternatives.filter(one => one.voice === voice.id && !met.has(one))
  const layer = element("layer", { n: 1 }, ...run, ...alone.map(one => writer.choices.alone(one)))
  return element("staff", { n }, layer, ...pointing.map(({ mark, startid }) => pointingMarkXml(writer, mark, startid)))
}

/** A mark that can stand beside the layer. */
const isFree = (writer: Writer, sign: Sign | undefined): boolean =>
  sign?.kind === "mark" && !sign.editorial && !writer.choices.bound.has(sign.id)

/** The id of the sign before which the marks at this place stand; undefined when it has none in XML. */
function anchorAfter(writer: Writer, signs: readonly Sign[], at: number): string | undefined {
  let next = at + 1
  while (isFree(writer, signs[next])) next++
  const anchor = signs[next]
  if (!anchor || !POINTED_TO.has(anchor.kind)) return undefined
  return writer.idOf(anchor)
}
const POINTED_TO = new Set<Sign["kind"]>(["note", "rest", "ligature"])
