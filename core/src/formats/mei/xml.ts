/** From the text of a file to a tree of elements that know their lines, or to a problem that says what is wrong. */
import { DOMParser } from "@xmldom/xmldom"
import { failed, done, type Problem, type Result } from "../../base/index.js"
import { scan, type Scan, type ScanFault, type Span } from "./scan.js"

/** What we use of a node of the parsed tree. */
export interface XmlNode {
  readonly nodeType: number
  readonly nodeName: string
  readonly localName: string | null
  readonly namespaceURI: string | null
  readonly parentNode: XmlNode | null
  readonly firstChild: XmlNode | null
  readonly nextSibling: XmlNode | null
  readonly nodeValue: string | null
  readonly lineNumber?: number
  readonly columnNumber?: number
}
export interface XmlElement extends XmlNode {
  readonly localName: string
  readonly attributes: { readonly length: number; item(index: number): { name: string; value: string } | null }
  getAttribute(name: string): string | null
}

export interface XmlTree {
  readonly root: XmlElement
  /** In document order, like the elements of the tree. */
  readonly spans: readonly Span[]
}

/** Characters; a file with 200,000 notes has about half of this. */
export const LONGEST = 96_000_000
/** The root element stands within this many characters. */
const HEAD = 100_000

const ELEMENT = 1

/** Parses without fetching, expanding or running anything. */
export function parseXml(text: string, file?: string): Result<XmlTree> {
  const wrong = tooLongOrEmpty(text)
  if (wrong) return failed({ ...wrong, severity: "error", where: { file, line: 1, column: 1 } })
  const found = scan(text)
  if (found.fault) return failed(faultProblem(text, found.fault, file))
  return parseTree(text, found, file)
}

function tooLongOrEmpty(text: string): Omit<Problem, "where"> | undefined {
  if (text.length > LONGEST)
    return {
      code: "file-too-large",
      what: `The file has ${text.length} characters; at most ${LONGEST} are read.`,
      mend: "Divide the piece into several files.",
    }
  const head = text.slice(0, HEAD).replace(/^\uFEFF/, "")
  if (!/\S/.test(head))
    return {
      code: "xml-empty",
      what: text.length <= HEAD ? "The file is empty." : `The file begins with ${HEAD} blank characters.`,
      mend: "Open a file that holds an MEI document.",
    }
  if (!/^\s*</.test(head))
    return {
      code: "not-xml",
      what: "This is not XML: the first character is not “<”.",
      mend: "Open an MEI file, or give a file in the shorthand a name that ends in .figurae.",
    }
  return undefined
}

const FAULTS: Record<ScanFault, { code: string; what: string; mend: string }> = {
  depth: {
    code: "xml-too-deep",
    what: "The elements stand too deep in each other.",
    mend: "Take out the needless nesting; no score has so much.",
  },
  entities: {
    code: "xml-entities",
    what: "The DOCTYPE declares entities, which are not read since they can swell without bound.",
    mend: "Replace each entity by its text and take the declarations out.",
  },
  "control-character": {
    code: "xml-malformed",
    what: "There is a character that XML forbids",
    mend: "Delete it, or save the file as UTF-8 text again.",
  },
  ampersand: {
    code: "xml-malformed",
    what: "There is a “&” that begins no known character reference.",
    mend: "Write &amp; for the sign itself.",
  },
  unclosed: {
    code: "xml-malformed",
    what: "The file ends inside a tag, comment or section that begins here.",
    mend: "The file may be cut off: get a whole copy, or close what begins here.",
  },
}

function faultProblem(text: string, fault: NonNullable<Scan["fault"]>, file?: string): Problem {
  const { code, what, mend } = FAULTS[fault.kind]
  return {
    code,
    what: fault.detail ? `${what} (U+${fault.detail.padStart(4, "0")}).` : what,
    where: { file, ...lineAndColumn(text, fault.at) },
    mend,
    severity: "error",
  }
}

/** Both from 1. */
export function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  let line = 1
  let begin = 0
  for (let at = text.indexOf("\n"); at >= 0 && at < offset; at = text.indexOf("\n", at + 1)) {
    line++
    begin = at + 1
  }
  return { line, column: offset - begin + 1 }
}

function parseTree(text: string, found: Scan, file?: string): Result<XmlTree> {
  let report: { message: string; line?: number; column?: number } | undefined
  const onError = (
    _level: string,
    message: string,
    context: { locator?: { lineNumber?: number; columnNumber?: number } },
  ) => {
    report ??= { message, line: context?.locator?.lineNumber, column: context?.locator?.columnNumber }
    throw new Error(message)
  }
  try {
    const parser = new DOMParser({ onError } as ConstructorParameters<typeof DOMParser>[0])
    const root = parser.parseFromString(text.replace(/^\uFEFF/, ""), "text/xml")
      .documentElement as unknown as XmlElement | null
    if (root) return done({ root, spans: found.spans })
  } catch (thrown) {
    // The parser throws for whatever is not well formed; anything else it may throw is the file's fault as well.
    report ??= { message: thrown instanceof Error ? thrown.message : String(thrown) }
  }
  return failed({
    code: "xml-malformed",
    what: `This is not well-formed XML: ${firstLine(report?.message ?? "no root element")}.`,
    where: { file, line: report?.line || 1, column: report?.column || 1 },
    mend: "Mend the tag at this place, or get a whole copy of the file.",
    severity: "error",
  })
}

function firstLine(message: string): string {
  return (message.split("\n")[0] ?? "").slice(0, 200).replace(/[.\s]+$/, "")
}

export function isElement(node: XmlNode | null): node is XmlElement {
  return node?.nodeType === ELEMENT
}

/** Element children in order. */
export function childrenOf(element: XmlNode): XmlElement[] {
  const all: XmlElement[] = []
  for (let node = element.firstChild; node; node = node.nextSibling) if (isElement(node)) all.push(node)
  return all
}

/** First child element of this name. */
export function childOf(element: XmlNode, name: string): XmlElement | undefined {
  return childrenOf(element).find(child => child.localName === name)
}

/** The element and all elements in it, in document order. Does not recurse, so any depth will do. */
export function* elementsIn(top: XmlElement): Generator<XmlElement> {
  let node: XmlNode = top
  for (;;) {
    if (isElement(node)) yield node
    if (node.firstChild) node = node.firstChild
    else {
      while (node !== top && !node.nextSibling) node = node.parentNode!
      if (node === top) return
      node = node.nextSibling!
    }
  }
}

/** Value of the attribute without blanks around it; undefined when absent or empty. */
export function attribute(element: XmlElement, name: string): string | undefined {
  return element.getAttribute(name)?.trim() || undefined
}

/** All text within, runs of blanks made one blank, none at the ends. What is not of the element's own namespace is left out. */
export function textIn(element: XmlElement): string {
  let text = ""
  let node: XmlNode = element
  for (;;) {
    if (node.nodeType === 3 || node.nodeType === 4) text += node.nodeValue ?? ""
    const foreign = isElement(node) && node.namespaceURI !== element.namespaceURI
    if (node.firstChild && !foreign) node = node.firstChild
    else {
      while (node !== element && !node.nextSibling) node = node.parentNode!
      if (node === element) return text.replace(/\s+/g, " ").trim()
      node = node.nextSibling!
    }
  }
}
