/** Definitions of score and staff: which voices there are, and the clef, signature and mensuration they begin with. */
import { signId } from "../../../base/index.js"
import type { Clef, MensurationSign, Sign, Signature, Voice } from "../../../page/index.js"
import { allTokenParts, splitTokens, tokenPart } from "../tokens.js"
import { attribute, childOf, childrenOf, textIn, type XmlElement } from "../xml.js"
import { trim, type Reader, type VoiceDraft } from "./reader.js"
import {
  accidentalsOf,
  figuresOf,
  readClef,
  readMensur,
  readMensuration,
  readProportion,
  readSignature,
} from "./signs.js"

/** The definition itself first, then those it inherits from. */
type Chain = readonly XmlElement[]

const CLEF = ["clef.shape", "clef.line", "clef.dis", "clef.dis.place"]
const SIGNATURE = ["keysig", "key.sig"]
const LEVELS = ["modusmaior", "modusminor", "tempus", "prolatio"]
const MENSURATION = ["mensur.sign", "mensur.dot", "mensur.slash", "mensur.orient", "divisio", ...LEVELS]
const PROPORTION = ["proport.num", "proport.numbase"]

/** Makes or changes the voices that a scoreDef or staffDef (in groups or alone) defines. */
export function readDefinitions(reader: Reader, element: XmlElement, inherited: Chain = []): void {
  if (element.localName === "staffDef") {
    defineVoice(reader, element, inherited)
    return
  }
  const chain = element.localName === "scoreDef" ? [element, ...inherited] : inherited
  const known = new Set(reader.voices.keys())
  for (const child of childrenOf(element))
    if (child.localName === "staffGrp" || child.localName === "staffDef") readDefinitions(reader, child, chain)
  if (
    element.localName === "scoreDef" &&
    known.size > 0 &&
    known.size === reader.voices.size &&
    !childOf(element, "staffGrp")
  )
    reader.events.push({ element, scope: reader.scope, apply: (to, voice) => readDefinition(to, element, voice) })
}

function defineVoice(reader: Reader, staffDef: XmlElement, inherited: Chain): void {
  const n = attribute(staffDef, "n") ?? String(reader.voices.size + 1)
  const key = voiceKey(reader.scope, n)
  const known = reader.voices.get(key)
  if (known) {
    const apply = (to: Reader, voice: VoiceDraft) => readDefinition(to, staffDef, voice, inherited)
    reader.events.push({ element: staffDef, scope: reader.scope, n, apply })
    return
  }
  const voice = newVoice(reader, n, [staffDef, ...inherited])
  reader.voices.set(key, voice)
  if (!voice.passedOver) addSigns(reader, voice, [staffDef, ...inherited], true)
}

export function voiceKey(scope: string, n: string): string {
  return `${scope}/${n}`
}

/** A voice as its definitions describe it; without any, a staff of five lines. */
export function newVoice(reader: Reader, wantedN: string, chain: Chain): VoiceDraft {
  const [staffDef] = chain
  const taken = [...reader.voices.values()].map(voice => voice.n)
  const tokens = splitTokens(staffDef && attribute(staffDef, "type"))
  const n = tokenPart(tokens, "n") ?? (taken.includes(wantedN) ? firstFree(taken) : wantedN)
  const ids = [...reader.voices.values()].map(voice => voice.id)
  const wantedId = (staffDef && attribute(staffDef, "xml:id")) ?? tokenPart(tokens, "id") ?? n
  const type = find(chain, "notationtype")
  const signs: Sign[] = []
  const label = staffDef && childOf(staffDef, "label")
  return trim({
    id: ids.includes(wantedId) ? n : wantedId,
    n,
    label: (staffDef && attribute(staffDef, "label")) ?? ((label && textIn(label)) || n),
    lines: (staffDef && reader.whole(staffDef, "lines", 1, 99)) ?? 5,
    staffColour: find(chain, "lines.color"),
    notation: type === "mensural.black" ? "black" : type === "mensural.white" ? "white" : "unknown",
    practice: practiceOf(chain),
    signs,
    sink: signs,
    met: 0,
    passedOver: type !== undefined && /^(cmn|neume|tab)/.test(type),
    defaultLevel: holder(chain, "dur.default") && reader.level(holder(chain, "dur.default")!, "dur.default"),
    defaultOctave: holder(chain, "oct.default") && reader.whole(holder(chain, "oct.default")!, "oct.default", 0, 9),
    definitions: chain,
    staves: [],
    layers: [],
  })
}

function firstFree(taken: readonly string[]): string {
  let n = taken.length + 1
  while (taken.includes(String(n))) n++
  return String(n)
}

function practiceOf(chain: Chain): Voice["practice"] {
  const subtype = find(chain, "notationsubtype")
  if (subtype === undefined) return undefined
  const tokens = splitTokens(chain[0] && attribute(chain[0], "type"))
  const options = allTokenParts(tokens, "option").map(([name, value]) => [name ?? "", value ?? ""] as const)
  return { name: tokenPart(tokens, "practice") ?? subtype.replaceAll(".", "-"), options: Object.fromEntries(options) }
}

function holder(chain: Chain, name: string): XmlElement | undefined {
  return chain.find(one => attribute(one, name) !== undefined)
}
function find(chain: Chain, name: string): string | undefined {
  const element = holder(chain, name)
  return element && attribute(element, name)
}

/** A definition in the course of the piece: what it says stands in the run of signs. */
export function readDefinition(reader: Reader, element: XmlElement, voice: VoiceDraft, inherited: Chain = []): void {
  addSigns(reader, voice, [element, ...inherited], false)
}

function addSigns(reader: Reader, voice: VoiceDraft, chain: Chain, initial: boolean): void {
  addClef(reader, voice, chain, initial)
  addSignature(reader, voice, chain, initial)
  addMensuration(reader, voice, chain, initial)
  addProportion(reader, voice, chain)
}

/** Children of this name in the nearest definition that has some. */
function childrenNamed(chain: Chain, ...names: string[]): XmlElement[] {
  for (const definition of chain) {
    const found = childrenOf(definition)
      .flatMap(child => (child.localName === "clefGrp" ? childrenOf(child) : [child]))
      .filter(child => names.includes(child.localName))
    if (found.length > 0) return found
  }
  return []
}

const mark = <T extends Sign>(sign: T, initial: boolean): T => (initial ? { ...sign, initial: true } : sign)

/** What gives the value of an attribute: the nearest definition that has it. */
const from = (chain: Chain) => (name: string) => holder(chain, name) ?? chain[0]!
const present = (chain: Chain, names: readonly string[]) => names.filter(name => holder(chain, name) !== undefined)

function addClef(reader: Reader, voice: VoiceDraft, chain: Chain, initial: boolean): void {
  const children = childrenNamed(chain, "clef")
  for (const child of children) {
    const clef = readClef(reader, child)
    if (clef) reader.add(voice, mark<Clef>(clef, initial), child)
  }
  const names = present(chain, CLEF)
  if (children.length > 0 || !names.includes("clef.shape")) return
  const clef = readClef(reader, chain[0]!, from(chain), "clef.")
  if (clef) reader.add(voice, mark<Clef>(clef, initial), holder(chain, "clef.shape")!, names)
}

function addSignature(reader: Reader, voice: VoiceDraft, chain: Chain, initial: boolean): void {
  const children = childrenNamed(chain, "keySig")
  for (const child of children) reader.add(voice, mark<Signature>(readSignature(reader, child), initial), child)
  const [name] = present(chain, SIGNATURE)
  if (children.length > 0 || name === undefined) return
  const element = holder(chain, name)!
  const value = attribute(element, name)!
  const accidentals = accidentalsOf(value)
  if (!accidentals) reader.impossible(element, name, value, "0, 1f, 1s and so on")
  else if (accidentals.length > 0 || !initial)
    reader.add(voice, mark<Signature>({ kind: "signature", id: signId(""), accidentals }, initial), element, [name])
}

function addMensuration(reader: Reader, voice: VoiceDraft, chain: Chain, initial: boolean): void {
  const children = childrenNamed(chain, "mensur", "proport")
  const names = present(chain, MENSURATION)
  const signs = children.filter(child => child.localName === "mensur")
  if (signs.length === 0 && names.length > 0) {
    const tokens: string[] = []
    const sign = withColour(
      readMensuration(reader, chain[0]!, tokens, from(chain), "mensur."),
      find(chain, "mensur.color"),
    )
    reader.add(voice, mark(sign, initial), holder(chain, names[0]!)!, names)
  }
  let first = true
  for (const child of children) {
    if (child.localName === "mensur") {
      const sign = readMensur(reader, child)
      reader.add(voice, mark<MensurationSign>(first ? withLevels(reader, sign, chain, child) : sign, initial), child)
      first = false
    } else addFigureOrProportion(reader, voice, child)
  }
}

function withColour(sign: MensurationSign, colour: string | undefined): MensurationSign {
  return colour === undefined ? sign : { ...sign, extra: { ...sign.extra, "mei:color": colour } }
}

/** Levels that the definition states in attributes beside a mensur element. */
function withLevels(reader: Reader, sign: MensurationSign, chain: Chain, element: XmlElement): MensurationSign {
  const stated = readMensuration(reader, chain[0]!, [], from(chain), "mensur.")
  const { modusMaior, modusMinor, tempus, prolatio } = stated
  const levels = trim({ modusMaior, modusMinor, tempus, prolatio })
  for (const [name, value] of Object.entries(levels)) {
    const own = sign[name as keyof typeof levels]
    if (own !== undefined && own !== value)
      reader.report(
        "contradictory-attributes",
        `The staff's ${name} is ${value}, its mensur says ${own}; the mensur is read.`,
        "Take one of the two out.",
        element,
      )
  }
  return { ...levels, ...sign }
}

function addFigureOrProportion(reader: Reader, voice: VoiceDraft, element: XmlElement): void {
  const figures = figuresOf(reader, element)
  const before = voice.sink.at(-1)
  if (figures?.length && before?.kind === "mensuration" && !before.figures)
    reader.replace(voice, before, { ...before, figures }, element)
  else {
    const proportion = readProportion(reader, element)
    if (proportion) reader.add(voice, proportion, element)
  }
}

function addProportion(reader: Reader, voice: VoiceDraft, chain: Chain): void {
  const names = present(chain, PROPORTION)
  if (!names.includes("proport.num")) return
  const element = holder(chain, "proport.num")!
  const num = reader.whole(element, "proport.num", 1, 9999)
  const base = holder(chain, "proport.numbase")
  const numbase = base && reader.whole(base, "proport.numbase", 1, 9999)
  if (num !== undefined) reader.add(voice, trim({ kind: "proportion", id: signId(""), num, numbase }), element, names)
}
