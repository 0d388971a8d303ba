/** The run of signs in one layer, with ligatures and an editor's readings. */
import { table } from "../table.js"
import { signId } from "../../../base/index.js"
import { LEVELS } from "../../../page/index.js"
import type { Ligature, Mark, Sign } from "../../../page/index.js"
import { splitTokens, tokenPart } from "../tokens.js"
import { attribute, childrenOf, elementsIn, isElement, textIn, type XmlElement, type XmlNode } from "../xml.js"
import { commonParts } from "./common.js"
import { isDecision } from "./decisions.js"
import { readDefinition } from "./definitions.js"
import { readEditorial } from "./editorial.js"
import { partsOf } from "./note-parts.js"
import { impliedDot, readDot, readNote, readRest } from "./notes.js"
import { trim, type Reader, type VoiceDraft } from "./reader.js"
import {
  figuresOf,
  isBreak,
  readAccidental,
  readBreak,
  readClef,
  readCustos,
  readMark,
  readMensur,
  readProportion,
  readSignature,
  readStroke,
  repeatsIn,
  strokeForm,
} from "./signs.js"
import { syllablesOf, withSyllables } from "./words.js"

/** The figures of a voice: what holds one and is not read itself is a group, and its content stands in the run of signs. */
const FIGURES = new Set(["note", "rest", "chord"])
/** Groups that may hold other signs alone. */
const TRANSPARENT = new Set(["clefGrp", "oStaff", "oLayer"])
/** No sign, or read elsewhere. */
const PASSED_OVER = new Set(["space", "mSpace"])
/** Out of place anywhere but in a layer. */
const MUSIC = new Set([...FIGURES, "dot", "ligature", "mensur", "proport", "beam", "tuplet"])
export const isMusic = (name: string): boolean => MUSIC.has(name)

export function readLayer(reader: Reader, layer: XmlElement, voice: VoiceDraft): void {
  for (const child of childrenOf(layer))
    if (child.namespaceURI === reader.root.namespaceURI) readElement(reader, child, voice)
}

export function readElement(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const name = element.localName
  const special = SPECIAL[name]
  if (PASSED_OVER.has(name)) reportSpace(reader, element)
  if (special) special(reader, element, voice)
  else if (isBreak(name)) reader.add(voice, readBreak(element), element)
  else if (name === "scoreDef" || name === "staffDef") readDefinition(reader, element, voice)
  else if (!PASSED_OVER.has(name) && !readEditorial(reader, element, inside => readLayer(reader, inside, voice))) {
    if (TRANSPARENT.has(name) || holdsFigures(element)) readLayer(reader, element, voice)
    else addOther(reader, element, voice, name)
  }
}

/** A gap of a stated level: nothing stands there, so the voice comes too early after it. In a measure it only fills that. */
function reportSpace(reader: Reader, element: XmlElement): void {
  const level = LEVELS.find(one => one === attribute(element, "dur"))
  if (level === undefined || isInMeasure(element)) return
  reader.report(
    "space",
    `A ${element.localName} of a ${level} lasts no time here, for it is no sign on the page.`,
    "If the voice is silent so long, write a rest, in <supplied> where the source has none.",
    element,
  )
}

function isInMeasure(element: XmlElement): boolean {
  for (let node = element.parentNode; node; node = node.parentNode) if (node.localName === "measure") return true
  return false
}

function holdsFigures(element: XmlElement): boolean {
  for (const inside of elementsIn(element)) if (FIGURES.has(inside.localName)) return true
  return false
}

const SPECIAL = table<(reader: Reader, element: XmlElement, voice: VoiceDraft) => void>({
  note: addNote,
  chord: addChord,
  rest: (reader, element, voice) => {
    const rest = readRest(reader, element, voice)
    if (rest.level === undefined && rest.spaces === undefined) addWithoutLevel(reader, element, voice)
    else reader.add(voice, rest, element)
  },
  dot: addDot,
  ligature: addLigature,
  syllable: addSyllable,
  mensur: (reader, element, voice) => reader.add(voice, readMensur(reader, element), element),
  proport: addProportion,
  clef: (reader, element, voice) => addIf(reader, element, voice, readClef(reader, element)),
  keySig: (reader, element, voice) => reader.add(voice, readSignature(reader, element), element),
  accid: (reader, element, voice) => addIf(reader, element, voice, readAccidental(reader, element)),
  custos: (reader, element, voice) => reader.add(voice, readCustos(reader, element), element),
  barLine: addBar,
  anchoredText: (reader, element, voice) => reader.add(voice, readMark(element), element),
  // one that points to no sign belongs where it stands
  dir: (reader, element, voice) =>
    attribute(element, "startid") === undefined && attribute(element, "plist") === undefined
      ? reader.add(voice, readMark(element), element)
      : reader.marks.push({ element, voice }),
  fermata: (reader, element) => reader.fermatas.push(element),
  annot: (reader, element, voice) => {
    if (!isDecision(element)) addComment(reader, element, voice)
  },
  pad: (reader, element, voice) =>
    addOther(reader, element, voice, tokenPart(splitTokens(attribute(element, "type")), "other") ?? "pad"),
})

function addIf(reader: Reader, element: XmlElement, voice: VoiceDraft, sign: Sign | undefined): void {
  if (sign) reader.add(voice, sign, element)
  else addOther(reader, element, voice, element.localName)
}

function addOther(reader: Reader, element: XmlElement, voice: VoiceDraft, name: string): void {
  reader.add(
    voice,
    trim({ ...commonParts(element, splitTokens(attribute(element, "type"))), kind: "other", name }),
    element,
  )
}

function addComment(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const tokens = splitTokens(attribute(element, "type"))
  reader.add(voice, trim({ ...commonParts(element, tokens), kind: "comment", text: textIn(element) }), element)
}

/** A figura that says neither level nor length cannot be read; it keeps its place. */
function addWithoutLevel(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const what = `This ${element.localName} has no level that can be read; it keeps its place but lasts no time.`
  reader.report("level-missing", what, 'Write dur="maxima", "longa", "brevis" or smaller.', element)
  addOther(reader, element, voice, element.localName)
}

function addNote(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const note = readNote(reader, element, voice)
  if (note.level === undefined && !reader.inLigature) return addWithoutLevel(reader, element, voice)
  reader.add(voice, note, element)
  addDots(reader, element, voice)
}

/** A dot, or the stroke that does its office. */
function addDot(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const form = strokeForm(element)
  reader.add(voice, form ? readStroke(reader, element, form) : readDot(reader, element), element)
}

/** Dots inside a note, and those that only its @dots tells of: with a dot element after the note they are the same. */
function addDots(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const inside = childrenOf(element).filter(child => child.localName === "dot")
  for (const dot of inside) addDot(reader, dot, voice)
  const told = reader.whole(element, "dots", 0, 4) ?? 0
  const written = inside.length > 0 || nextElement(element)?.localName === "dot"
  if (!written) for (let i = 0; i < told; i++) reader.add(voice, impliedDot(), element, ["dots"])
}

function nextElement(element: XmlElement): XmlElement | undefined {
  let node: XmlNode | null = element.nextSibling
  while (node && !isElement(node)) node = node.nextSibling
  return node ?? undefined
}

function addChord(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const note = childrenOf(element).find(child => child.localName === "note")
  reader.report(
    "chord",
    "Two notes at once in one voice: only the first is read.",
    "Give each voice its own staff or layer.",
    element,
  )
  const outer = voice.defaultLevel
  voice.defaultLevel = reader.level(element, "dur") ?? outer
  if (note) addNote(reader, note, voice)
  voice.defaultLevel = outer
}

function addBar(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const repeats = repeatsIn(element)
  // An invisible bar is the encoder's, not on the page; the document keeps it.
  if (attribute(element, "form") === "invis" && !strokeForm(element)) return
  if (repeats.length === 0) {
    reader.add(voice, readStroke(reader, element, strokeForm(element) ?? "bar"), element)
    return
  }
  const common = commonParts(element, splitTokens(attribute(element, "type")))
  repeats.forEach((of, index) => {
    const mark: Mark = trim({ id: index === 0 ? common.id : signId(""), zone: common.zone, kind: "mark", of })
    reader.add(voice, mark, element)
  })
}

/** Notes below the syllable that is sung on them (an element of the neumes); the first of them takes it. */
function addSyllable(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const from = voice.sink.length
  const parts = partsOf(element)
  for (const child of childrenOf(element)) if (!WORDS.has(child.localName)) readElement(reader, child, voice)
  const at = voice.sink.findIndex((sign, i) => i >= from && (sign.kind === "note" || sign.kind === "ligature"))
  const syllables = syllablesOf(reader, parts)
  if (at < 0 || syllables.length === 0) return
  const sign = voice.sink[at]!
  const changed = withSyllables(reader, sign, syllables)
  if (changed !== sign) reader.passOn(sign, (voice.sink[at] = changed))
}
const WORDS = new Set(["syl", "verse", "refrain"])

/** A figure written as part of the sign before it joins that sign. */
function addProportion(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const figures = figuresOf(reader, element)
  const before = voice.sink.at(-1)
  if (figures?.length && before?.kind === "mensuration" && !before.figures)
    reader.replace(voice, before, { ...before, figures }, element)
  else addIf(reader, element, voice, readProportion(reader, element))
}

function addLigature(reader: Reader, element: XmlElement, voice: VoiceDraft): void {
  const outer = { sink: voice.sink, editorial: reader.editorial, inLigature: reader.inLigature }
  const inside: Sign[] = []
  voice.sink = inside
  reader.editorial = undefined
  reader.inLigature = true
  readLayer(reader, element, voice)
  voice.sink = outer.sink
  reader.editorial = outer.editorial
  reader.inLigature = outer.inLigature
  const tokens = splitTokens(attribute(element, "type"))
  const members = withObliques(reader, element, asMembers(reader, inside))
  const ligature: Ligature = trim({
    ...commonParts(element, tokens),
    kind: "ligature",
    members,
    form: reader.oneOf(element, "form", ["recta", "obliqua"]),
    propriety: wordOf(
      tokens,
      ["cum.proprietate", "cum"],
      ["sine.proprietate", "sine"],
      ["opposita.proprietate", "opposita"],
      ["cum.opposita.proprietate", "opposita"],
    ),
    perfection: wordOf(tokens, ["cum.perfectione", "cum"], ["sine.perfectione", "sine"]),
    conjunctura: tokens.some(one => one === "coniunctura" || one === "conjunctura" || one === "currentes") || undefined,
  })
  reader.add(voice, ligature, element)
}

function wordOf<T extends string>(tokens: readonly string[], ...words: [word: string, means: T][]): T | undefined {
  return words.find(([word]) => tokens.includes(word))?.[1]
}

/** Signs that no ligature can hold on a page (a clef, a mensuration sign) keep their place unread. */
function asMembers(reader: Reader, inside: readonly Sign[]): Ligature["members"][number][] {
  return inside.flatMap((sign): Ligature["members"][number][] => {
    if (sign.kind === "note" || sign.kind === "dot" || sign.kind === "rest" || sign.kind === "other") return [sign]
    const source = reader.sources.get(sign)!
    if (sign.kind === "ligature") return [...sign.members]
    reader.report(
      "sign-in-ligature",
      `A ${sign.kind} inside a ligature is not read.`,
      "Write it before or after the ligature.",
      source.element,
    )
    const other = { kind: "other", id: sign.id, name: source.element.localName } as const
    reader.passOn(sign, other)
    return [other]
  })
}

/** note@lig="obliqua" stands on both notes of an oblique body, on the first, or (last of all) on the second alone. */
function withObliques(
  reader: Reader,
  ligature: XmlElement,
  members: Ligature["members"][number][],
): Ligature["members"] {
  const marked = members.map(member => {
    const source = reader.sources.get(member)
    return member.kind === "note" && source !== undefined && attribute(source.element, "lig") === "obliqua"
  })
  const canBegin = (i: number) => members[i]?.kind === "note" && members[i + 1]?.kind === "note"
  for (let i = 0; i < members.length; i++) {
    if (!marked[i]) continue
    const begin = canBegin(i) ? i : canBegin(i - 1) ? i - 1 : undefined
    if (begin === undefined) continue
    const oblique = { ...members[begin]!, oblique: true }
    reader.passOn(members[begin]!, oblique)
    members[begin] = oblique
    i = begin + 1 // the next note ends this body, and begins none
  }
  return members
}
