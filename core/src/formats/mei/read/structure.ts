/** The way down from the document to the layers: movements, sections, containers, staves. */
import { signId } from "../../../base/index.js"
import type { Mark } from "../../../page/index.js"
import { attribute, childOf, childrenOf, textIn, type XmlElement } from "../xml.js"
import { newVoice, readDefinition, readDefinitions, voiceKey } from "./definitions.js"
import { readEditorial } from "./editorial.js"
import { isMusic, readElement, readLayer } from "./layer.js"
import { trim, type Event, type Reader, type VoiceDraft } from "./reader.js"
import { isBreak, readBreak } from "./signs.js"

/** Reads every movement in the `music` element. */
export function readMusic(reader: Reader, music: XmlElement): void {
  let movements = 0
  for (const mdiv of movementsIn(music)) {
    if (movements++ > 0) announce(reader, mdiv, "section", attribute(mdiv, "label") ?? attribute(mdiv, "n"))
    for (const child of childrenOf(mdiv)) {
      if (child.localName === "score") readContent(reader, child)
      if (child.localName === "parts") readParts(reader, child)
    }
  }
}

/** Movements that hold a score or parts, through groups of texts and movements. */
function movementsIn(element: XmlElement): XmlElement[] {
  return childrenOf(element).flatMap(child => {
    if (child.localName === "mdiv" && (childOf(child, "score") || childOf(child, "parts"))) return [child]
    return ["mdiv", "body", "group", "music"].includes(child.localName) ? movementsIn(child) : []
  })
}

/** Each part numbers its staves for itself. */
function readParts(reader: Reader, parts: XmlElement): void {
  childrenOf(parts).forEach((part, index) => {
    const outer = reader.scope
    reader.scope = attribute(part, "n") ?? String(index + 1)
    readContent(reader, part)
    reader.scope = outer
  })
}

/** Whatever holds definitions, breaks, sections, containers and staves. */
function readContent(reader: Reader, parent: XmlElement): void {
  for (const child of childrenOf(parent)) if (child.namespaceURI === reader.root.namespaceURI) readPart(reader, child)
}

const CONTAINERS = new Set(["section", "measure", "ending", "part", "syllable"])

function readPart(reader: Reader, element: XmlElement): void {
  const name = element.localName
  if (name === "scoreDef" || name === "staffDef" || name === "staffGrp") readDefinitions(reader, element)
  else if (name === "staff") readStaff(reader, element)
  else if (isBreak(name)) announceBreak(reader, element)
  else if (name === "dir" || name === "fermata") readControl(reader, element)
  else if (CONTAINERS.has(name)) {
    announceContainer(reader, element)
    readContent(reader, element)
  } else if (!readEditorial(reader, element, inside => readContent(reader, inside)) && isMusic(name))
    reader.report(
      "outside-staff",
      `A ${name} that stands in no staff is not read.`,
      'Put it into a staff and its layer: <staff n="1"><layer>…</layer></staff>.',
      element,
    )
}

/** Controls outside a staff name theirs in @staff, and their sign in @startid. */
function readControl(reader: Reader, element: XmlElement, within?: VoiceDraft): void {
  if (element.localName === "fermata") reader.fermatas.push(element)
  else {
    const staff = attribute(element, "staff")?.split(/\s+/)[0]
    const voice = within ?? (staff === undefined ? undefined : reader.voices.get(voiceKey(reader.scope, staff)))
    reader.marks.push({ element, voice })
  }
}

/** Endings, and sections with a heading, are marks in every voice that goes on in them. */
function announceContainer(reader: Reader, element: XmlElement): void {
  const label = attribute(element, "label")
  if (element.localName === "section" && label !== undefined) announce(reader, element, "section", label)
  if (element.localName !== "ending") return
  const n = attribute(element, "n")
  const closed = /clos|2|secunda/i.test(`${attribute(element, "type") ?? ""} ${label ?? ""} ${n ?? ""}`)
  announce(reader, element, closed ? "ending-closed" : "ending-open", label ?? n)
}

function announce(reader: Reader, element: XmlElement, of: Mark["of"], text?: string): void {
  const apply: Event["apply"] = (to, voice) => {
    const mark: Mark = trim({ kind: "mark", id: signId(""), of, text })
    to.add(voice, mark, element, [])
  }
  reader.events.push({ element, scope: reader.scope, apply })
}

/** A break between staves is met by each voice; the first one gets the break's own id. */
function announceBreak(reader: Reader, element: XmlElement): void {
  let met = false
  const apply: Event["apply"] = (to, voice) => {
    const sign = readBreak(element)
    to.add(voice, met ? { ...sign, id: signId("") } : sign, element, [])
    met = true
  }
  reader.events.push({ element, scope: reader.scope, apply })
}

function readStaff(reader: Reader, staff: XmlElement): void {
  const n = attribute(staff, "n") ?? "1"
  let layers = 0
  const voiceOf = (layer: number) => voiceFor(reader, staff, layer === 0 ? n : `${n}b`.padEnd(n.length + layer, "b"))
  const first = voiceOf(0)
  first.staves.push(staff)
  const read = (parent: XmlElement): void => {
    for (const child of childrenOf(parent)) {
      const name = child.localName
      if (first.passedOver) return
      if (name === "layer") {
        // a further layer in which nothing stands is no voice
        if (layers > 0 && childrenOf(child).length === 0) continue
        const voice = layers++ === 0 ? first : voiceOf(layers - 1)
        voice.layers.push(child)
        readLayer(reader, child, voice)
      } else if (isBreak(name)) reader.add(first, readBreak(child), child)
      else if (name === "staffDef") readDefinition(reader, child, first)
      else if (name === "dir" || name === "fermata") readControl(reader, child, first)
      else if (!readEditorial(reader, child, inside => readAgain(inside)) && isMusic(name))
        readOutsideLayer(reader, child, first)
    }
  }
  // Each reading of an app counts its layers for itself.
  const readAgain = (inside: XmlElement): void => {
    const before = layers
    layers = 0
    read(inside)
    layers = Math.max(before, layers)
  }
  read(staff)
}

/** Signs right in the staff stand as they would in a layer. */
function readOutsideLayer(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  if (previousElement(element)?.localName !== element.localName)
    reader.report(
      "outside-layer",
      `A ${element.localName} stands in the staff but in no layer; it is read as if it stood in one.`,
      "Put what a staff holds into a <layer>.",
      element,
    )
  readElement(reader, element, voice)
}

function previousElement(element: XmlElement): XmlElement | undefined {
  const all = element.parentNode ? childrenOf(element.parentNode) : []
  return all[all.indexOf(element) - 1]
}

function voiceFor(reader: Reader, staff: XmlElement, n: string): VoiceDraft {
  const key = voiceKey(reader.scope, n)
  let voice = reader.voices.get(key)
  if (!voice) {
    voice = newVoice(reader, n, [])
    reader.voices.set(key, voice)
    const second = n.endsWith("b")
    reader.report(
      second ? "second-layer" : "undefined-staff",
      second
        ? `A second layer is read as a voice of its own, ${voice.n}.`
        : `Staff ${n} has no definition; five lines are taken.`,
      second ? "Give each voice its own staff." : `Write a staffDef with n="${n}" in the scoreDef.`,
      staff,
    )
  }
  meetEvents(reader, voice, n)
  return voice
}

/** What stood between this staff of the voice and its last one. */
function meetEvents(reader: Reader, voice: VoiceDraft, n: string): void {
  while (voice.met < reader.events.length) {
    const event = reader.events[voice.met++]!
    if (event.scope === reader.scope && (event.n === undefined || event.n === n) && !voice.passedOver)
      event.apply(reader, voice)
  }
}

/** Text of the first heading that the document has. */
export function titleOf(root: XmlElement): string {
  const header = childOf(root, "meiHead")
  const file = header && childOf(header, "fileDesc")
  const statement = file && childOf(file, "titleStmt")
  const title = statement && childOf(statement, "title")
  if (title && textIn(title)) return textIn(title)
  const works = header && childOf(header, "workList")
  const work = works && childOf(works, "work")
  const named = work && childOf(work, "title")
  return named ? textIn(named) : ""
}
