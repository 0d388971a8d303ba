/** What all signs have in common: id, zone, what else they carry; pitches and shapes. */
import { table } from "../table.js"
import { signId, type SignId } from "../../../base/index.js"
import type { Pitch, Step } from "../../../page/index.js"
import { allTokenParts, fromName, tokenPart, type Tokens } from "../tokens.js"
import { attribute, type XmlElement } from "../xml.js"
import { pointer, type Reader } from "./reader.js"

const STEPS = ["a", "b", "c", "d", "e", "f", "g"] as const

/** Attributes that the theory does not read but a new file can write again. */
export const CARRIED = table<readonly string[]>({
  note: ["color"],
  mensur: ["color", "form", "loc"],
  barLine: ["form"],
  proport: ["color", "loc"],
  clef: ["color"],
})

/** The id is "" where the document has none; it gets one when the voice is complete. */
export function commonParts(element: XmlElement, tokens: Tokens) {
  return {
    id: idOf(element, tokens),
    zone: pointer(element, "facs") ?? tokenPart(tokens, "zone"),
    initial: tokens.includes("initial") || undefined,
    extra: extraOf(element, tokens),
  }
}

/** An xml:id must be a name; ids that are none are escaped, or kept among the words of @type. */
export function idOf(element: XmlElement, tokens: Tokens): SignId {
  const name = attribute(element, "xml:id")
  return signId(name === undefined ? (tokenPart(tokens, "id") ?? "") : fromName(name))
}

function extraOf(element: XmlElement, tokens: Tokens): Record<string, string> | undefined {
  const extra = new Map<string, string>()
  for (const [key, value] of allTokenParts(tokens, "extra")) if (key) extra.set(key, value ?? "")
  for (const name of CARRIED[element.localName] ?? []) {
    const value = attribute(element, name)
    if (value !== undefined && !ORDINARY.has(`${element.localName} ${name} ${value}`)) extra.set(`mei:${name}`, value)
  }
  return extra.size > 0 ? Object.fromEntries(extra) : undefined
}

/** What goes without saying, or is told by the sign itself. */
const ORDINARY = new Set(["note color red", "note color black", "barLine form single"])

export function pitchOf(
  reader: Reader,
  element: XmlElement,
  stepName: string,
  octaveName: string,
  defaultOctave?: number,
): Pitch | undefined {
  const step: Step | undefined = reader.oneOf(element, stepName, STEPS)
  const octave = reader.whole(element, octaveName, 0, 9) ?? defaultOctave
  return step === undefined || octave === undefined ? undefined : { step, octave }
}

/** Name of the special shape: of a definition in the file, a word, or a glyph of the fonts. */
export function shapeOf(reader: Reader, element: XmlElement, tokens: Tokens): string | undefined {
  const defined = pointer(element, "altsym") ?? pointer(element, "head.altsym")
  const worded = tokenPart(tokens, "shape")
  if (worded !== undefined) return worded
  if (defined !== undefined) {
    const shape = reader.shapes.get(defined)
    if (shape) return shape.name
    reader.report(
      "unknown-symbol",
      `altsym="#${defined}" points to no symbolDef.`,
      "Define the symbol in symbolTable, or take altsym out.",
      element,
    )
  }
  if (tokens.includes("dragma")) return "dragma"
  return attribute(element, "glyph.name")
}
