/** Strokes, mensuration signs, proportions, clefs, signatures and the rest of the signs that last no time. */
import { table } from "../table.js"
import { signId } from "../../../base/index.js"
import type {
  AccidentalSign,
  Break,
  Clef,
  Custos,
  Mark,
  MensurationSign,
  Proportion,
  Signature,
  Step,
  Stroke,
} from "../../../page/index.js"
import { splitTokens, tokenPart, type Tokens, tokenParts } from "../tokens.js"
import { attribute, childrenOf, childOf, textIn, type XmlElement } from "../xml.js"
import { chosenOf } from "./editorial.js"
import { commonParts, pitchOf, shapeOf } from "./common.js"
import { nearOf } from "./notes.js"
import { trim, type Reader } from "./reader.js"

const STROKES = table<Stroke["form"]>({
  "divisio.modi": "divisio-modi",
  "signum.perfectionis": "signum-perfectionis",
  "signum.rotundum": "signum-rotundum",
  "divisio.syllabarum": "divisio-syllabarum",
  suspirium: "suspirium",
  "finis.punctorum": "finis-punctorum",
})

/** What the words of a dot's or bar's type say of a stroke. */
export function strokeForm(element: XmlElement): Stroke["form"] | undefined {
  return splitTokens(attribute(element, "type"))
    .map(word => STROKES[word])
    .find(Boolean)
}

/** A dot element or a barLine. */
export function readStroke(reader: Reader, element: XmlElement, form: Stroke["form"]): Stroke {
  const tokens = splitTokens(attribute(element, "type"))
  const worded = Number(tokenPart(tokens, "length"))
  return trim({
    ...commonParts(element, tokens),
    kind: "stroke",
    form,
    length: reader.length(element, "len") ?? (worded > 0 ? worded : undefined),
    loc: reader.whole(element, element.localName === "dot" ? "loc" : "place", -99, 99),
    near: nearOf(tokens),
  })
}

const LETTERS = new Set(["t", "q", "si", "i", "sg", "g", "sp", "p", "sy", "y", "n", "oc", "d"])
/** Divisiones that a file names without a letter. */
const DIVISIONES = table<string>({
  ternaria: "t",
  quaternaria: "q",
  senariaimperf: "i",
  senariaperf: "p",
  octonaria: "o",
  novenaria: "n",
  duodenaria: "d",
})

/** A mensur element, or (with the prefix "mensur.") the attributes of a definition; `read` finds them. */
export function readMensuration(
  reader: Reader,
  element: XmlElement,
  tokens: Tokens,
  read = (_name: string) => element,
  prefix = "",
): MensurationSign {
  const value = (name: string) => attribute(read(prefix + name), prefix + name)
  const part = (name: string) =>
    reader.oneOf(read(name), name, ["2", "3"]) === undefined
      ? undefined
      : (Number(attribute(read(name), name)) as 2 | 3)
  const signName = value("sign")
  const sign = signName === "O" || signName === "C" ? signName : undefined
  const letter = letterOf(signName, attribute(read("divisio"), "divisio"), tokens)
  if (signName !== undefined && !sign && !LETTERS.has(signName))
    reader.impossible(read(prefix + "sign"), prefix + "sign", signName, `O, C, ${[...LETTERS].join(", ")}`)
  const orient = reader.oneOf(read(prefix + "orient"), prefix + "orient", ["reversed", "90CW", "90CCW"])
  return trim({
    sign,
    dots: dotsIn(value("dot"), tokens),
    strokes: reader.whole(read(prefix + "slash"), prefix + "slash", 1, 6),
    reversed: orient === "reversed" || tokens.includes("reversed") || undefined,
    orientation: orient === "90CW" || orient === "90CCW" ? orient : undefined,
    letter,
    modusMaior: part("modusmaior"),
    modusMinor: part("modusminor"),
    tempus: part("tempus"),
    prolatio: part("prolatio"),
    kind: "mensuration",
    id: signId(""),
  })
}

function dotsIn(dot: string | undefined, tokens: Tokens): number | undefined {
  if (tokens.includes("two-dots")) return 2
  if (tokens.includes("three-dots")) return 3
  return dot === "true" ? 1 : undefined
}

function letterOf(sign: string | undefined, divisio: string | undefined, tokens: Tokens): string | undefined {
  const worded = tokenPart(tokens, "letter")
  if (worded !== undefined) return worded
  if (tokens.includes("binaria")) return "b"
  if (sign !== undefined) return sign === "oc" ? "o" : LETTERS.has(sign) ? sign : undefined
  return divisio === undefined ? undefined : DIVISIONES[divisio]
}

export function readMensur(reader: Reader, element: XmlElement): MensurationSign {
  const tokens = splitTokens(attribute(element, "type"))
  return trim({
    ...readMensuration(reader, element, tokens),
    ...commonParts(element, tokens),
    num: reader.whole(element, "num", 1, 9999),
    numbase: reader.whole(element, "numbase", 1, 9999),
    level: reader.level(element, "level"),
    shape: shapeOf(reader, element, tokens),
  })
}

/** Figures that belong to the sign before them; undefined for a proportion of its own. */
export function figuresOf(reader: Reader, element: XmlElement): number[] | undefined {
  const tokens = splitTokens(attribute(element, "type"))
  if (!tokens.includes("figura.signi")) return undefined
  const all = tokenParts(tokens, "figures")?.map(Number)
  if (all?.every(one => Number.isSafeInteger(one) && one > 0)) return all
  const num = reader.whole(element, "num", 1, 9999)
  const numbase = reader.whole(element, "numbase", 1, 9999)
  return [num, numbase].filter(one => one !== undefined)
}

/** Undefined (and reported) when there is no number. */
export function readProportion(reader: Reader, element: XmlElement): Proportion | undefined {
  const num = reader.whole(element, "num", 1, 9999)
  const numbase = reader.whole(element, "numbase", 1, 9999)
  if (num === undefined) {
    reader.report(
      "proportion-without-number",
      "A proportion without num is passed over.",
      'Write num="…" and, for a ratio, numbase="…".',
      element,
    )
    return undefined
  }
  return trim<Proportion>({
    ...commonParts(element, splitTokens(attribute(element, "type"))),
    kind: "proportion",
    num,
    numbase,
  })
}

const OCTAVES = table({ "8": 1, "15": 2, "22": 3 })
const USUAL_LINE: Record<Clef["shape"], number> = { C: 3, F: 4, G: 2, GG: 2 }

/** A clef element, or (with the prefix "clef.") the attributes of a definition. Undefined for clefs that are no song's. */
export function readClef(
  reader: Reader,
  element: XmlElement,
  read = (_name: string) => element,
  prefix = "",
): Clef | undefined {
  const shape = reader.oneOf(read(prefix + "shape"), prefix + "shape", ["C", "F", "G", "GG"])
  if (!shape) return undefined
  const line = reader.whole(read(prefix + "line"), prefix + "line", 1, 9)
  if (line === undefined)
    reader.report(
      "clef-without-line",
      `The ${shape} clef has no line; line ${USUAL_LINE[shape]} is taken.`,
      `Write ${prefix}line="${USUAL_LINE[shape]}".`,
      read(prefix + "shape"),
    )
  const octaves = OCTAVES[attribute(read(prefix + "dis"), prefix + "dis") ?? ""]
  const below = attribute(read(`${prefix}dis.place`), `${prefix}dis.place`) !== "above"
  return trim<Clef>({
    ...(prefix === "" ? commonParts(element, splitTokens(attribute(element, "type"))) : { id: signId("") }),
    kind: "clef",
    shape,
    line: line ?? USUAL_LINE[shape],
    octaveShift: octaves && (below ? -octaves : octaves),
  })
}

const SHARPS: readonly Step[] = ["f", "c", "g", "d", "a", "e", "b"]
const FLATS: readonly Step[] = ["b", "e", "a", "d", "g", "c", "f"]

/** "2f" gives b and e flat; "0" none; undefined for anything else. */
export function accidentalsOf(sig: string | undefined): Signature["accidentals"] | undefined {
  const found = /^(?:0|([1-7])([fs]))$/.exec(sig ?? "")
  if (!found) return undefined
  const steps = found[2] === "s" ? SHARPS : FLATS
  return steps.slice(0, Number(found[1] ?? 0)).map(step => ({ step, accidental: found[2]! }))
}

export function readSignature(reader: Reader, element: XmlElement): Signature {
  const keyAccids = keyAccidsIn(element).flatMap(child => {
    const step = reader.oneOf(child, "pname", FLATS)
    const accidental = attribute(child, "accid")
    return step && accidental ? [trim({ step, accidental, octave: reader.whole(child, "oct", 0, 9) })] : []
  })
  const sig = attribute(element, "sig")
  const counted = accidentalsOf(sig)
  if (sig !== undefined && !counted && keyAccids.length === 0)
    reader.impossible(element, "sig", sig, "0, 1f, 1s and so on")
  const accidentals = keyAccids.length > 0 ? keyAccids : (counted ?? [])
  return trim({ ...commonParts(element, splitTokens(attribute(element, "type"))), kind: "signature", accidentals })
}

function keyAccidsIn(element: XmlElement): XmlElement[] {
  return childrenOf(element).flatMap(child => {
    if (child.localName === "keyAccid") return [child]
    const chosen = child.localName === "choice" || child.localName === "app" ? chosenOf(child) : child
    return chosen ? keyAccidsIn(chosen) : []
  })
}

export function readAccidental(reader: Reader, element: XmlElement): AccidentalSign | undefined {
  const accidental = attribute(element, "accid")
  if (!accidental) return undefined
  return trim<AccidentalSign>({
    ...commonParts(element, splitTokens(attribute(element, "type"))),
    kind: "accidental",
    accidental,
    pitch: pitchOf(reader, element, "ploc", "oloc"),
    byEditor: attribute(element, "func") === "edit" || undefined,
  })
}

export function readCustos(reader: Reader, element: XmlElement): Custos {
  return trim<Custos>({
    ...commonParts(element, splitTokens(attribute(element, "type"))),
    kind: "custos",
    pitch: pitchOf(reader, element, "pname", "oct"),
  })
}

const SIDES = table({ recto: "r", verso: "v" })
const BREAKS = { pb: "folio", cb: "column", sb: "line" } as const

export function isBreak(name: string): name is keyof typeof BREAKS {
  return Object.hasOwn(BREAKS, name)
}

export function readBreak(element: XmlElement): Break {
  const tokens = splitTokens(attribute(element, "type"))
  const n = tokens.includes("unnumbered") ? undefined : (tokenPart(tokens, "n") ?? attribute(element, "n"))
  const side = SIDES[attribute(element, "folium") ?? ""]
  return trim({
    ...commonParts(element, tokens),
    kind: "break",
    of: BREAKS[element.localName as keyof typeof BREAKS],
    n: n !== undefined && side && /^\d+$/.test(n) ? n + side : n,
  })
}

const MARKS = table<Mark["of"]>({
  "signum.congruentiae": "signum-congruentiae",
  "repeat.start": "repeat-start",
  "repeat.end": "repeat-end",
  "ending.open": "ending-open",
  "ending.closed": "ending-closed",
  "refrain.start": "refrain-start",
  "refrain.end": "refrain-end",
  canon: "canon",
  section: "section",
  numeral: "numeral",
})

/** A dir or anchoredText; without a known type it is a text. */
export function readMark(element: XmlElement): Mark {
  const tokens = splitTokens(attribute(element, "type"))
  const known = tokens.map(word => MARKS[word]).find(Boolean)
  const signum = known ?? (childOf(element, "symbol") && textIn(element) === "" ? "signum-congruentiae" : "text")
  const text = textIn(element)
  return trim({ ...commonParts(element, tokens), kind: "mark", of: signum, text: text || undefined })
}

/** What repeats a barLine tells of; empty for an ordinary one. */
export function repeatsIn(element: XmlElement): Mark["of"][] {
  const form = attribute(element, "form")
  if (form === "rptstart") return ["repeat-start"]
  if (form === "rptend") return ["repeat-end"]
  return form === "rptboth" ? ["repeat-end", "repeat-start"] : []
}
