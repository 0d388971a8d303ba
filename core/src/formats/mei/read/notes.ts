/** Notes, rests and dots: from an element to a sign. */
import { table } from "../table.js"
import { ratio, signId } from "../../../base/index.js"
import type { Coloration, Dot, Given, Note, Plica, Rest, Stem } from "../../../page/index.js"
import { FLAGGED, IN_FORCE, splitTokens, tokenPart, tokenParts, type Tokens } from "../tokens.js"
import { attribute, type XmlElement } from "../xml.js"
import { partsOf, type Part } from "./note-parts.js"
import { rationalFrom, trim, type Reader, type VoiceDraft } from "./reader.js"
import { commonParts, pitchOf, shapeOf } from "./common.js"
import { syllablesOf } from "./words.js"

const ACCIDENTAL = /^[a-z0-9]{1,5}$/
const QUALITIES = ["perfecta", "imperfecta", "altera", "minor", "maior", "duplex"] as const
const DIRECTIONS = ["up", "down", "left", "right", "ne", "nw", "se", "sw"] as const
const SIDES = ["left", "right", "center"] as const

export function readNote(reader: Reader, element: XmlElement, voice: VoiceDraft): Note {
  const tokens = splitTokens(attribute(element, "type"))
  const parts = partsOf(element)
  const level = reader.level(element, "dur") ?? voice.defaultLevel
  const quality = reader.oneOf(element, "dur.quality", QUALITIES)
  const duplex = quality === "duplex" && level === "longa"
  if (quality === "duplex" && !duplex)
    reader.impossible(element, "dur.quality", "duplex", 'a longa (dur="longa") to it, or take it out')
  const head = tokenPart(tokens, "head")
  return trim({
    ...commonParts(element, tokens),
    kind: "note",
    level,
    pitch: pitchOf(reader, element, "pname", "oct", voice.defaultOctave),
    ...accidentalOf(reader, element, parts, tokens),
    coloration: colorationOf(element, voice, tokens),
    stems: stemsOf(reader, element, parts),
    plica: plicaOf(reader, parts),
    duplex: duplex || undefined,
    wide: tokens.includes("wide") || undefined,
    head: head === "over" || head === "beside" ? head : undefined,
    shape: shapeOf(reader, element, tokens),
    fermata: attribute(element, "fermata") !== undefined || undefined,
    syllables: syllablesOf(reader, parts),
    given: givenOf(reader, element, quality === "duplex" ? undefined : quality),
  })
}

function accidentalOf(reader: Reader, note: XmlElement, parts: readonly Part[], tokens: Tokens) {
  const child = parts.find(part => part.element.localName === "accid")
  const read = (element: XmlElement, name: string) => {
    const value = attribute(element, name)
    if (value === undefined || ACCIDENTAL.test(value)) return value
    reader.impossible(element, name, value, "s, f, n, x, ff and the like")
    return undefined
  }
  const accidental = (child && read(child.element, "accid")) ?? read(note, "accid")
  const byEditor = child !== undefined && (child.byEditor || attribute(child.element, "func") === "edit")
  return {
    accidental,
    accidentalByEditor: (accidental !== undefined && byEditor) || undefined,
    accidentalInForce:
      (child && read(child.element, "accid.ges")) ??
      read(note, "accid.ges") ??
      (tokens.includes(IN_FORCE) ? accidental : undefined),
  }
}

/** Ink and filling, as they differ from the ordinary ones of the voice. */
export function colorationOf(element: XmlElement, voice: VoiceDraft, tokens: Tokens): Coloration {
  const worded = tokenPart(tokens, "coloration")
  if (worded !== undefined && COLORATIONS.has(worded)) return worded as Coloration
  const fill = attribute(element, "head.fill")
  if (fill && HALVES[fill]) return HALVES[fill]
  const ink = attribute(element, "color") ?? attribute(element, "head.color") ?? attribute(element, "head.fillcolor")
  const red = ink !== undefined && isRed(ink)
  if (red) return fill === "void" ? "red-void" : "red"
  if (ink !== undefined && !isBlack(ink)) return "other"
  const colored = /^(true|1)$/.test(attribute(element, "colored") ?? "") || tokens.includes("colored")
  if (fill === "void") return voice.notation === "white" && !colored ? "none" : "void"
  if (fill === "solid") return voice.notation === "black" && !colored ? "none" : "black"
  if (!colored) return "none"
  // Coloured without saying how: by filling, which is what either notation does when it has but one ink.
  return voice.notation === "white" ? "black" : voice.notation === "black" ? "void" : "other"
}

const COLORATIONS = new Set([
  "red",
  "red-void",
  "void",
  "black",
  "other",
  "half-left",
  "half-right",
  "half-top",
  "half-bottom",
])
const HALVES = table<Coloration>({
  left: "half-left",
  right: "half-right",
  top: "half-top",
  bottom: "half-bottom",
})

function isRed(ink: string): boolean {
  if (/red|crimson|scarlet|vermil/i.test(ink)) return true
  const hex =
    /^(?:#|x)?([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})/i.exec(ink) ??
    /^rgba?\(\s*(\d+)\s*,\s*(\d+)\s*,\s*(\d+)/i.exec(ink)
  if (!hex) return false
  const base = ink.startsWith("rgb") ? 10 : 16
  const [r, g, b] = hex.slice(1, 4).map(part => Number.parseInt(part, base)) as [number, number, number]
  return r > 96 && r > 2 * g && r > 2 * b
}
function isBlack(ink: string): boolean {
  return /^(black|#?0{6}|#000|rgb\(\s*0\s*,\s*0\s*,\s*0\s*\)|x0{6})$/i.test(ink)
}

function stemsOf(reader: Reader, note: XmlElement, parts: readonly Part[]): Stem[] {
  const children = parts.filter(part => part.element.localName === "stem").map(part => part.element)
  const stems = children.flatMap(stem => stemOf(reader, stem, ""))
  return stems.length > 0 || attribute(note, "stem.dir") === undefined ? stems : stemOf(reader, note, "stem.")
}

function stemOf(reader: Reader, element: XmlElement, prefix: "" | "stem."): Stem[] {
  const direction = reader.oneOf(element, `${prefix}dir`, DIRECTIONS)
  if (!direction) {
    if (prefix === "" && attribute(element, "dir") === undefined)
      reader.report(
        "stem-without-direction",
        "A stem without a direction is passed over.",
        'Write dir="up" or dir="down".',
        element,
      )
    return []
  }
  const flagged = splitTokens(attribute(element, "type")).includes(FLAGGED)
  const flag = trim({ position: attribute(element, "flag.pos"), form: attribute(element, "flag.form") })
  return [
    trim({
      direction,
      position: reader.oneOf(element, `${prefix}pos`, SIDES),
      length: reader.length(element, `${prefix}len`),
      form: attribute(element, `${prefix}form`),
      flag: prefix === "" && (flag.position || flag.form || flagged) ? flag : undefined,
    }),
  ]
}

function plicaOf(reader: Reader, parts: readonly Part[]): Plica | undefined {
  const plicas = parts.filter(part => part.element.localName === "plica").map(part => part.element)
  const [plica, second] = plicas
  if (!plica) return undefined
  if (second) reader.report("two-plicas", "A note has two plicas; the first is read.", "Take one of them out.", second)
  const tokens = splitTokens(attribute(plica, "type"))
  return trim<Plica>({
    direction: reader.oneOf(plica, "dir", ["up", "down"]),
    strokes: tokens.includes("two-strokes") ? 2 : tokens.includes("one-stroke") ? 1 : undefined,
    length: reader.length(plica, "len"),
  })
}

function givenOf(reader: Reader, element: XmlElement, quality: Given["quality"]): Given | undefined {
  const num = reader.whole(element, "num", 1, 9999)
  const numbase = reader.whole(element, "numbase", 1, 9999)
  if (quality && num && numbase) compareGiven(reader, element, quality, numbase / num)
  return quality || num || numbase ? trim({ quality, num, numbase }) : undefined
}

/**
 * What part of its undiminished value a note of this quality may last, more than the first and up to the second, in any
 * mensuration: perfect, it may lose parts but no third; imperfect, it may have a dot; altered, it may lose a part.
 */
const LASTING = table<readonly [number, number]>({
  perfecta: [2 / 3, 3 / 2],
  imperfecta: [0, 3 / 2],
  altera: [1, 2],
  minor: [0, 3 / 2],
  maior: [1, 2],
})

function compareGiven(reader: Reader, element: XmlElement, quality: string, part: number): void {
  const lasting = LASTING[quality]
  if (lasting === undefined || (part > lasting[0] + 1e-9 && part < lasting[1] + 1e-9)) return
  const [num, numbase] = [attribute(element, "num"), attribute(element, "numbase")]
  reader.report(
    "contradictory-attributes",
    `dur.quality="${quality}" and num="${num}" numbase="${numbase}" contradict each other; the numbers are read.`,
    'Take one of them out, or mend it: a note lasts numbase/num of its undiminished value (num="3" numbase="2" takes a third away, num="1" numbase="2" doubles it).',
    element,
  )
}

/** Lesser and greater semibreve rests are thirds of a space. */
const THIRDS = table<[number, number]>({ "semibrevis.minor": [1, 3], "semibrevis.maior": [2, 3] })

export function readRest(reader: Reader, element: XmlElement, voice: VoiceDraft): Rest {
  const tokens = splitTokens(attribute(element, "type"))
  const dur = attribute(element, "dur")
  const byBreves = dur === "2B" ? 2 : dur === "3B" ? 3 : undefined
  const third = tokens.map(one => THIRDS[one]).find(Boolean)
  const spaces = reader.whole(element, "spaces", 1, 99) ?? byBreves
  if (byBreves && spaces !== byBreves)
    reader.report(
      "contradictory-attributes",
      `dur="${dur}" and spaces="${spaces}" contradict each other; the spaces are read.`,
      "Take one of them out.",
      element,
    )
  const quality = reader.oneOf(element, "dur.quality", QUALITIES.slice(0, 5)) ?? tokenPart(tokens, "quality")
  const given = givenOf(reader, element, quality as Given["quality"])
  // 1/2 is part of how the greater semibreve rest is written, not an encoder's decision.
  const inherent = third?.[0] === 2 && given?.num === 1 && given.numbase === 2 && !given.quality
  return trim({
    ...commonParts(element, tokens),
    kind: "rest",
    level: byBreves ? undefined : (reader.level(element, "dur") ?? (third || spaces ? undefined : voice.defaultLevel)),
    spaces:
      rationalFrom(tokenParts(tokens, "spaces"), ratio) ??
      (third ? ratio(...third) : spaces ? ratio(spaces) : undefined),
    loc: reader.whole(element, "loc", -99, 99),
    coloration: colorationOf(element, voice, tokens),
    fermata: attribute(element, "fermata") !== undefined || tokens.includes("fermata") || undefined,
    near: nearOf(tokens),
    given: inherent ? undefined : given,
  })
}

export function nearOf(tokens: Tokens): "previous" | "next" | undefined {
  const near = tokenPart(tokens, "near")
  return near === "previous" || near === "next" ? near : undefined
}

/** A dot that is no division stroke. */
export function readDot(reader: Reader, element: XmlElement): Dot {
  const tokens = splitTokens(attribute(element, "type"))
  const form = tokenPart(tokens, "form") ?? (tokens.includes("pontellus") ? "pontellus" : undefined)
  const written = reader.oneOf(element, "form", ["aug", "div"])
  return trim({
    ...commonParts(element, tokens),
    kind: "dot",
    loc: reader.whole(element, "loc", -99, 99),
    form,
    // With a type the form is part of how the sign is written; alone it is the encoder's reading.
    given: form === undefined || tokens.includes("given") ? written : undefined,
  })
}

/** The dot that only @dots tells of. */
export function impliedDot(): Dot {
  return { kind: "dot", id: signId("") }
}
