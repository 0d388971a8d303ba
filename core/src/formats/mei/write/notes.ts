/** Notes, rests, dots and ligatures as elements. */
import { equals, ratio, type Rational } from "../../../base/index.js"
import type { Coloration, Dot, Note, Rest, Stem, Syllable } from "../../../page/index.js"
import { element, type XmlElement } from "../../xml.js"
import { FLAGGED, IN_FORCE, token } from "../tokens.js"
import type { Attributes, Writer } from "./writer.js"

const defined = (...tokens: (string | undefined | false)[]): string[] => tokens.filter(one => typeof one === "string")

/** `bodyEnd`: an oblique body begun on the note before ends here. */
export function noteXml(writer: Writer, note: Note, bodyEnd = false): XmlElement {
  const shape = writer.shape(note.shape)
  const colour = noteColoration(note.coloration)
  const [stem, ...more] = note.stems
  const asAttributes = stem !== undefined && more.length === 0 && stem.flag === undefined
  // the schema's rules forbid to say the written accidental once more
  const isRepeated = note.accidental !== undefined && note.accidental === note.accidentalInForce
  const tokens = defined(
    ...shape.tokens,
    ...colour.tokens,
    note.wide && "wide",
    note.head && token("head", note.head),
    isRepeated && IN_FORCE,
  )
  const attributes: Attributes = {
    ...colour.attributes,
    ...writer.common(note, "note", tokens),
    dur: note.level,
    "dur.quality": note.duplex ? "duplex" : note.given?.quality,
    pname: note.pitch?.step,
    oct: note.pitch?.octave,
    accid: note.accidentalByEditor ? undefined : note.accidental,
    // The schema has no "x" for what is only in force.
    "accid.ges": isRepeated ? undefined : note.accidentalInForce === "x" ? "ss" : note.accidentalInForce,
    num: note.given?.num,
    numbase: note.given?.numbase,
    lig: note.oblique || bodyEnd ? "obliqua" : undefined,
    fermata: note.fermata ? "above" : undefined,
    ...shape.attributes,
    ...(asAttributes ? stemAttributes(stem, "stem.") : {}),
  }
  return element(
    "note",
    attributes,
    ...(asAttributes ? [] : note.stems.map(one => element("stem", stemAttributes(one, "")))),
    note.plica && plicaXml(note.plica),
    note.accidentalByEditor && note.accidental ? element("accid", { accid: note.accidental, func: "edit" }) : undefined,
    ...versesXml(note.syllables),
  )
}

function stemAttributes(stem: Stem, prefix: "" | "stem."): Attributes {
  return {
    [`${prefix}dir`]: stem.direction,
    [`${prefix}pos`]: stem.position,
    [`${prefix}len`]: stem.length,
    [`${prefix}form`]: stem.form,
    ...(prefix === "" ? flagAttributes(stem.flag) : {}),
  }
}

function flagAttributes(flag: Stem["flag"]): Attributes {
  if (!flag) return {}
  const isBare = flag.position === undefined && flag.form === undefined
  return { "flag.pos": flag.position, "flag.form": flag.form, type: isBare ? FLAGGED : undefined }
}

function plicaXml({ direction, strokes, length }: NonNullable<Note["plica"]>): XmlElement {
  const type = strokes === 2 ? "two-strokes" : strokes === 1 ? "one-stroke" : undefined
  return element("plica", { dir: direction, len: length, type })
}

const CON: Record<Syllable["join"], string> = { "-": "d", " ": "s", _: "u", "~": "b" }

/** Syllables of one stanza that follow each other share its verse. */
function versesXml(syllables: readonly Syllable[]): XmlElement[] {
  const verses: { stanza: number; syllables: Syllable[] }[] = []
  for (const syllable of syllables) {
    const last = verses.at(-1)
    if (last?.stanza === syllable.stanza) last.syllables.push(syllable)
    else verses.push({ stanza: syllable.stanza, syllables: [syllable] })
  }
  return verses.map(verse =>
    element(
      "verse",
      { n: verse.stanza },
      ...verse.syllables.map(({ text, join, italic }) =>
        element("syl", { con: CON[join], fontstyle: italic ? "italic" : undefined }, text),
      ),
    ),
  )
}

const HALVES: Partial<Record<Coloration, string>> = {
  "half-left": "left",
  "half-right": "right",
  "half-top": "top",
  "half-bottom": "bottom",
}

function noteColoration(coloration: Coloration): { attributes: Attributes; tokens: string[] } {
  if (coloration === "none") return { attributes: {}, tokens: [] }
  const red = coloration === "red" || coloration === "red-void" ? "red" : undefined
  const fill =
    coloration === "void" || coloration === "red-void" ? "void" : coloration === "black" ? "solid" : HALVES[coloration]
  return {
    attributes: { colored: "true", color: red, "head.fill": fill },
    tokens: coloration === "other" ? [token("coloration", "other")] : [],
  }
}

/** A rest has no attribute for its filling. */
function restColoration(coloration: Coloration): { color?: string; tokens: string[] } {
  if (coloration === "none") return { tokens: [] }
  if (coloration === "red") return { color: "red", tokens: ["colored"] }
  return { color: coloration === "red-void" ? "red" : undefined, tokens: ["colored", token("coloration", coloration)] }
}

const MINOR = ratio(1, 3)
const MAIOR = ratio(2, 3)

export function restXml(writer: Writer, rest: Rest): XmlElement {
  const colour = restColoration(rest.coloration)
  const length = restLength(rest)
  const tokens = defined(
    ...length.tokens,
    ...colour.tokens,
    rest.fermata && "fermata",
    rest.near && token("near", rest.near),
    rest.given?.quality && token("quality", rest.given.quality),
  )
  return element("rest", {
    ...writer.common(rest, "rest", tokens),
    loc: rest.loc,
    color: colour.color,
    num: rest.given?.num,
    numbase: rest.given?.numbase,
    ...length.attributes,
  })
}

/** Whole spaces have an attribute (two and three without a level have a level of their own); thirds are named by words. */
function restLength(rest: Rest): { attributes: Attributes; tokens: string[] } {
  const { level, spaces, given } = rest
  if (!spaces) return { attributes: { dur: level }, tokens: [] }
  if (spaces.den === 1) {
    const byBreves = level === undefined && (spaces.num === 2 || spaces.num === 3) ? `${spaces.num}B` : undefined
    return { attributes: { dur: byBreves ?? level, spaces: spaces.num }, tokens: [] }
  }
  if (equals(spaces, MINOR)) return { attributes: { dur: level }, tokens: ["semibrevis.minor"] }
  // With this word, 1/2 is taken as part of how the rest is written; given durations need the plainer word.
  if (equals(spaces, MAIOR) && !given)
    return { attributes: { dur: level, num: 1, numbase: 2 }, tokens: ["semibrevis.maior"] }
  return { attributes: { dur: level }, tokens: [spacesToken(spaces)] }
}

function spacesToken(spaces: Rational): string {
  return token("spaces", spaces.num, spaces.den)
}

export function dotXml(writer: Writer, dot: Dot): XmlElement {
  const pontellus = dot.form === "pontellus"
  const tokens = defined(
    pontellus ? "pontellus" : dot.form !== undefined && token("form", dot.form),
    dot.form !== undefined && dot.given !== undefined && "given",
  )
  const form = dot.given ?? (pontellus ? "div" : undefined)
  return element("dot", { ...writer.common(dot, "dot", tokens), form, loc: dot.loc })
}
