/** Where a file has several readings, one is read and the others are kept beside it. */
import type { Alternative, Editorial, Sign } from "../../../page/index.js"
import {
  EDITORIAL_KINDS,
  handNamed,
  NO_READING,
  splitTokens,
  tokenPart,
  tokenParts,
  UNMARKED,
  usualHand,
} from "../tokens.js"
import { attribute, childrenOf, type XmlElement } from "../xml.js"
import { idOf } from "./common.js"
import { pointer, trim, type Reader, type VoiceDraft } from "./reader.js"

const CHOICES = new Set(["app", "choice", "subst"])
/** What is read first, within each kind of choice. */
const PREFERRED = ["lem", "corr", "orig", "add"]

/** True when the element was an editor's and has been read, its content by `read`. */
export function readEditorial(reader: Reader, element: XmlElement, read: (inside: XmlElement) => void): boolean {
  const name = element.localName
  if (CHOICES.has(name)) readChoice(reader, element, read)
  else if (name === "del") keepUnchosen(reader, element, new Map(), read)
  else if (handNamed(name) !== undefined) withHand(reader, element, () => read(element))
  else return false
  return true
}

/** The child that is read; undefined when there is none. */
export function chosenOf(choice: XmlElement): XmlElement | undefined {
  const children = readingsIn(choice)
  for (const name of PREFERRED) {
    const found = children.find(child => child.localName === name)
    if (found) return found
  }
  return children[0]
}

function readingsIn(choice: XmlElement): XmlElement[] {
  const isReading = ({ localName: name }: XmlElement) =>
    CHOICES.has(name) || name === "del" || handNamed(name) !== undefined
  return childrenOf(choice).filter(child => child.namespaceURI === choice.namespaceURI && isReading(child))
}

function readChoice(reader: Reader, choice: XmlElement, read: (inside: XmlElement) => void): void {
  const chosen = chosenOf(choice)
  const written = capture(reader, () => {
    // One that holds no reading at all holds the signs themselves.
    if (!chosen) read(choice)
    else if (!readEditorial(reader, chosen, read)) read(chosen)
  })
  for (const [voice, signs] of written) for (const sign of signs) voice.sink.push(sign)
  for (const other of readingsIn(choice)) if (other !== chosen) keepUnchosen(reader, other, written, read)
}

function keepUnchosen(
  reader: Reader,
  other: XmlElement,
  instead: ReadonlyMap<VoiceDraft, readonly Sign[]>,
  read: (inside: XmlElement) => void,
): void {
  if (isNoReading(other)) return
  const met = new Map([...reader.voices.values()].map(voice => [voice, voice.met]))
  const outer = reader.editorial
  reader.editorial = undefined
  const found = capture(reader, () => read(other))
  reader.editorial = outer
  for (const [voice, count] of met) voice.met = count
  const named = tokenPart(splitTokens(attribute(other, "type")), "voice")
  const without =
    named === undefined ? [...instead.keys()] : [...reader.voices.values()].filter(({ id }) => id === named)
  const voices = found.size > 0 ? [...found.keys()] : without
  for (const voice of voices)
    reader.alternatives.push({
      id: idOf(other, splitTokens(attribute(other, "type"))),
      voice,
      what: whatOf(other),
      editorial: tracesOf(other, usualHand(other.localName)),
      insteadOf: instead.get(voice) ?? [],
      ...saidOf(other),
      signs: found.get(voice) ?? [],
      element: other,
    })
}

/** A rdg that only stands there because an app must have one. */
export function isNoReading(element: XmlElement): boolean {
  return childrenOf(element).length === 0 && splitTokens(attribute(element, "type")).includes(NO_READING)
}

const WHATS = ["sic", "rdg", "orig", "corr", "reg", "lem"] as const

function whatOf(element: XmlElement): Alternative["what"] {
  const said = tokenPart(splitTokens(attribute(element, "type")), "what") ?? element.localName
  return WHATS.find(what => what === said) ?? "rdg"
}

/** What could not be said by the place of the element. */
function saidOf(element: XmlElement): { insteadOfIds?: readonly string[]; place?: number } {
  const tokens = splitTokens(attribute(element, "type"))
  const insteadOfIds = tokenParts(tokens, "instead")
  const place = Number(tokenPart(tokens, "place"))
  return { ...(insteadOfIds && { insteadOfIds }), ...(Number.isSafeInteger(place) && { place }) }
}

/** What `read` adds, voice by voice, taken out of the run of signs again. */
function capture(reader: Reader, read: () => void): Map<VoiceDraft, Sign[]> {
  const before = new Map([...reader.voices.values()].map(voice => [voice, voice.sink]))
  for (const voice of before.keys()) voice.sink = []
  read()
  const found = new Map<VoiceDraft, Sign[]>()
  for (const [voice, sink] of before) {
    if (voice.sink.length > 0) found.set(voice, voice.sink)
    voice.sink = sink
  }
  return found
}

function withHand(reader: Reader, element: XmlElement, read: () => void): void {
  const outer = reader.editorial
  reader.editorial = handOf(element) ?? outer
  read()
  reader.editorial = outer
}

/** The editor's hand that an element tells of; undefined for the source's own (sic, orig). */
export function handOf(element: XmlElement): Editorial | undefined {
  const kind = handNamed(element.localName)
  const isNone = kind === undefined || kind === "none" || splitTokens(attribute(element, "type")).includes(UNMARKED)
  return isNone ? undefined : tracesOf(element, kind)
}

function tracesOf(element: XmlElement, usual: Editorial["kind"]): Editorial {
  const tokens = splitTokens(attribute(element, "type"))
  const said = tokenPart(tokens, "hand")
  return trim({
    kind: EDITORIAL_KINDS.find(kind => kind === said) ?? usual,
    resp: pointer(element, "resp"),
    cert: attribute(element, "cert") ?? tokenPart(tokens, "cert"),
    reason: attribute(element, "reason") ?? tokenPart(tokens, "reason"),
    source: pointer(element, "source"),
  })
}
