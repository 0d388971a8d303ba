/** Every sign as elements, with the editor's hand around it. */
import { table } from "../table.js"
import type {
  Break,
  Editorial,
  Ligature,
  Mark,
  MensurationSign,
  Note,
  Sign,
  Signature,
  Stroke,
} from "../../../page/index.js"
import { unreachable } from "../../../base/index.js"
import { element, type XmlElement } from "../../xml.js"
import { NO_READING, toName, token, usualHand } from "../tokens.js"
import { dotXml, noteXml, restXml } from "./notes.js"
import type { Attributes, Writer } from "./writer.js"

/** The sign, in the element of its editor where it has one. */
export function signXml(writer: Writer, sign: Sign, bodyEnd = false): XmlElement[] {
  const bare = bareSignXml(writer, sign, bodyEnd)
  return sign.editorial ? [handXml(sign.editorial, bare)] : bare
}

/** The sign without its editor's element. A mensuration sign with figures takes two elements. */
export function bareSignXml(writer: Writer, sign: Sign, bodyEnd = false): XmlElement[] {
  const common = (name: string, ...tokens: string[]) => writer.common(sign, name, [...initialToken(sign), ...tokens])
  switch (sign.kind) {
    case "note":
      return [noteXml(writer, sign, bodyEnd)]
    case "rest":
      return [restXml(writer, sign)]
    case "dot":
      return [dotXml(writer, sign)]
    case "stroke":
      return [strokeXml(writer, sign)]
    case "ligature":
      return [ligatureXml(writer, sign)]
    case "mensuration":
      return mensurationXml(writer, sign)
    case "proportion":
      return [element("proport", { ...common("proport"), num: sign.num, numbase: sign.numbase })]
    case "clef": {
      const { shape, line, octaveShift: shift } = sign
      const dis = shift ? { "1": "8", "2": "15", "3": "22" }[Math.abs(shift)] : undefined
      return [
        element("clef", { ...common("clef"), shape, line, dis, "dis.place": dis && (shift! < 0 ? "below" : "above") }),
      ]
    }
    case "signature":
      return [signatureXml(common("keySig"), sign)]
    case "accidental": {
      const { accidental, pitch, byEditor } = sign
      const func = byEditor ? "edit" : undefined
      return [element("accid", { ...common("accid"), accid: accidental, ploc: pitch?.step, oloc: pitch?.octave, func })]
    }
    case "custos":
      return [element("custos", { ...common("custos"), pname: sign.pitch?.step, oct: sign.pitch?.octave })]
    case "break": {
      return [breakXml(common, sign)]
    }
    case "mark":
      return [element("anchoredText", common("anchoredText", ...markTokens(sign)), sign.text)]
    case "comment":
      return [element("annot", common("annot", "comment"), sign.text || undefined)]
    case "other":
      return [element("pad", common("pad", token("other", sign.name)))]
    default:
      return unreachable(sign)
  }
}

const BREAKS = { folio: "pb", column: "cb", line: "sb" } as const

/** A column must have a whole number; one without says so among the words of its type. */
function breakXml(common: (name: string, ...tokens: string[]) => Attributes, { of, n }: Break): XmlElement {
  if (of !== "column" || /^[1-9]\d*$/.test(n ?? "")) return element(BREAKS[of], { ...common(BREAKS[of]), n })
  return element("cb", { ...common("cb", n === undefined ? "unnumbered" : token("n", n)), n: 1 })
}

/** Signs of the voice's definition that stand elsewhere than there. */
function initialToken(sign: Sign): string[] {
  return "initial" in sign && sign.initial ? ["initial"] : []
}

/** An editor's element around what it is about. */
export function handXml(hand: Editorial, children: readonly XmlElement[]): XmlElement {
  const inner = element(hand.kind, handAttributes(hand.kind, hand), ...children)
  if (hand.kind !== "lem" && hand.kind !== "rdg") return inner
  // The schema wants a second reading beside a lem; this one says that there is none.
  return element("app", {}, inner, hand.kind === "lem" ? element("rdg", { type: NO_READING }) : undefined)
}

/** Who, how surely, why and from which source; what the element has no attribute for goes among the words of its type. */
export function handAttributes(name: string, hand: Editorial, id?: string, others: readonly string[] = []): Attributes {
  const reasoned = name === "supplied" || name === "unclear"
  const certain = name !== "lem" && name !== "rdg"
  const words = [
    ...others,
    ...(hand.kind === usualHand(name) ? [] : [token("hand", hand.kind)]),
    ...(hand.reason !== undefined && !reasoned ? [token("reason", hand.reason)] : []),
    ...(hand.cert !== undefined && !certain ? [token("cert", hand.cert)] : []),
    ...(id !== undefined && toName(id) !== id ? [token("id", id)] : []),
  ]
  return {
    "xml:id": id !== undefined && toName(id) === id ? id : undefined,
    type: words.length > 0 ? words.join(" ") : undefined,
    resp: hand.resp === undefined ? undefined : `#${toName(hand.resp)}`,
    cert: certain ? hand.cert : undefined,
    reason: reasoned ? hand.reason : undefined,
    source: hand.source === undefined ? undefined : `#${toName(hand.source)}`,
  }
}

const DOT_STROKES: Partial<Record<Stroke["form"], string[]>> = {
  "divisio-modi": ["divisio.modi", "stroke"],
  "signum-perfectionis": ["signum.perfectionis"],
  "signum-rotundum": ["signum.rotundum"],
}
const BAR_STROKES: Partial<Record<Stroke["form"], string[]>> = {
  "divisio-syllabarum": ["divisio.syllabarum"],
  suspirium: ["suspirium"],
  "finis-punctorum": ["finis.punctorum"],
  bar: [],
}

function strokeXml(writer: Writer, sign: Stroke): XmlElement {
  const near = sign.near ? [token("near", sign.near)] : []
  const asDot = DOT_STROKES[sign.form]
  if (asDot) {
    const words = [...asDot, ...near, ...(sign.length === undefined ? [] : [token("length", sign.length)])]
    return element("dot", { ...writer.common(sign, "dot", words), form: "div", loc: sign.loc })
  }
  const common = writer.common(sign, "barLine", [...(BAR_STROKES[sign.form] ?? []), ...near])
  return element("barLine", { form: "single", ...common, len: sign.length, place: sign.loc })
}

/** Members with their editor's elements; `inside` may group them (readings that were not chosen). */
function ligatureXml(writer: Writer, sign: Ligature): XmlElement {
  const propriety = { cum: "cum.proprietate", sine: "sine.proprietate", opposita: "opposita.proprietate" }
  const perfection = { cum: "cum.perfectione", sine: "sine.perfectione" }
  const words = [
    ...(sign.propriety ? [propriety[sign.propriety]] : []),
    ...(sign.perfection ? [perfection[sign.perfection]] : []),
    ...(sign.conjunctura ? ["coniunctura"] : []),
  ]
  return element(
    "ligature",
    { ...writer.common(sign, "ligature", words), form: sign.form },
    ...runXml(writer, sign.members),
  )
}

/** A run of signs, with the readings that stand beside some of them. */
export function runXml(writer: Writer, signs: readonly Sign[]): XmlElement[] {
  const elements: XmlElement[] = []
  for (let i = 0; i < signs.length;) {
    const choice = writer.choices.at(signs, i)
    const ends = (sign: Sign, at: number) => sign.kind === "note" && isOblique(signs[at - 1])
    if (choice) {
      elements.push(choice.write(signs.slice(i, i + choice.count).map((sign, j) => [sign, ends(sign, i + j)] as const)))
      i += choice.count
    } else {
      elements.push(...signXml(writer, signs[i]!, ends(signs[i]!, i)))
      i++
    }
  }
  return elements
}

function isOblique(sign: Sign | undefined): boolean {
  return sign?.kind === "note" && (sign as Note).oblique === true
}

const LETTERS = table<{ sign: string; divisio?: string }>({
  t: { sign: "t", divisio: "ternaria" },
  q: { sign: "q", divisio: "quaternaria" },
  i: { sign: "i", divisio: "senariaimperf" },
  si: { sign: "si", divisio: "senariaimperf" },
  sg: { sign: "sg", divisio: "senariaimperf" },
  p: { sign: "p", divisio: "senariaperf" },
  sp: { sign: "sp", divisio: "senariaperf" },
  sy: { sign: "sy" },
  g: { sign: "g" },
  y: { sign: "y" },
  o: { sign: "oc", divisio: "octonaria" },
  n: { sign: "n", divisio: "novenaria" },
  d: { sign: "d", divisio: "duodenaria" },
})

export function mensurationXml(writer: Writer, sign: MensurationSign, inDefinition = false): XmlElement[] {
  const shape = writer.shape(sign.shape)
  const letter = sign.letter === undefined ? undefined : LETTERS[sign.letter]
  const both = sign.reversed && sign.orientation !== undefined
  const words = [
    ...(inDefinition ? [] : initialToken(sign)),
    ...shape.tokens,
    ...(sign.letter === "b"
      ? ["binaria"]
      : sign.letter !== undefined && (!letter || sign.sign)
        ? [token("letter", sign.letter)]
        : []),
    ...(sign.dots === 2 ? ["two-dots"] : sign.dots === 3 ? ["three-dots"] : []),
    ...(sign.figures ? ["cum.figura"] : []),
    ...(both ? ["reversed"] : []),
  ]
  const mensur = element("mensur", {
    ...writer.common(sign, "mensur", words),
    sign: sign.sign ?? letter?.sign,
    divisio: sign.sign ? undefined : letter?.divisio,
    dot: sign.dots === 1 ? "true" : undefined,
    slash: sign.strokes,
    orient: sign.orientation ?? (sign.reversed ? "reversed" : undefined),
    modusmaior: sign.modusMaior,
    modusminor: sign.modusMinor,
    tempus: sign.tempus,
    prolatio: sign.prolatio,
    num: sign.num,
    numbase: sign.numbase,
    level: sign.level,
    ...shape.attributes,
  })
  if (!sign.figures) return [mensur]
  const [num, numbase, ...more] = sign.figures
  const type = ["figura.signi", ...(more.length > 0 ? [token("figures", ...sign.figures)] : [])].join(" ")
  return [mensur, element("proport", { type, num, numbase })]
}

export function signatureXml(common: Attributes, sign: Signature): XmlElement {
  const accids = sign.accidentals.map(({ step, accidental, octave }) =>
    element("keyAccid", { pname: step, accid: accidental, oct: octave }),
  )
  return element("keySig", { ...common, sig: accids.length === 0 ? "0" : undefined }, ...accids)
}

function markTokens(mark: Mark): string[] {
  return mark.of === "text" ? [] : [mark.of.replace("-", ".")]
}

/** A mark that points to its sign, beside the layer. */
export function pointingMarkXml(writer: Writer, mark: Mark, startid: string): XmlElement {
  const place = mark.of === "numeral" ? "below" : "above"
  const symbol = { "glyph.auth": "smufl", "glyph.num": "U+EA00", "glyph.name": "mensuralSignumUp" }
  const text = mark.text === undefined ? [] : [mark.of === "numeral" ? element("num", {}, mark.text) : mark.text]
  const content = mark.of === "signum-congruentiae" ? [element("symbol", symbol), ...text] : text
  return element("dir", { ...writer.common(mark, "dir", markTokens(mark)), place, startid: `#${startid}` }, ...content)
}
