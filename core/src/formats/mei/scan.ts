/**
 * A first look at the text of an XML file, before any tree is made: where each element begins and ends, how deep they
 * stand in each other, and what would be unsafe to hand on (entities, endless depth, characters that XML forbids).
 * The places of the elements serve the writer later, which patches the text and leaves the rest of it untouched.
 */
export interface Span {
  /** Offset of the "<" of the start tag. */
  readonly start: number
  /** Offset after the ">" of the start tag. */
  readonly opened: number
  /** Offset of the "<" of the end tag; -1 for an element that is its own end. */
  close: number
  /** Offset after the element. */
  end: number
}

export interface Scan {
  /** In document order. */
  readonly spans: readonly Span[]
  /** The first thing that forbids reading on. */
  readonly fault?: { readonly at: number; readonly kind: ScanFault; readonly detail?: string }
}
export type ScanFault = "depth" | "entities" | "control-character" | "ampersand" | "unclosed"

/** More than any score has, little enough for a walk by recursion. */
export const DEEPEST = 256

// oxlint-disable-next-line no-control-regex
const FORBIDDEN =
  /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/
const REFERENCE = /&(?:amp|lt|gt|quot|apos|#(\d{1,7})|#x([0-9a-fA-F]{1,6}));/y

export function scan(text: string): Scan {
  const spans: Span[] = []
  const fault = (kind: ScanFault, at: number, detail?: string): Scan => ({ spans, fault: { kind, at, detail } })
  const forbidden = FORBIDDEN.exec(text)
  if (forbidden) return fault("control-character", forbidden.index, forbidden[0].codePointAt(0)!.toString(16))
  const open: Span[] = []
  const references = new References(text)
  let from = 0
  for (;;) {
    const at = text.indexOf("<", from)
    const end = at < 0 ? text.length : endOfMarkup(text, at)
    if (end === "entities") return fault("entities", at)
    if (end < 0) return fault("unclosed", at)
    // In comments, instructions and CDATA a "&" is a "&".
    const plain = at >= 0 && (text[at + 1] === "!" || text[at + 1] === "?") ? at : end
    const bad = references.firstBad(from, plain)
    if (bad !== undefined) return fault("ampersand", bad)
    if (at < 0) return { spans }
    if (text[at + 1] === "/") closeSpan(open.pop(), at, end)
    else if (text[at + 1] !== "!" && text[at + 1] !== "?") {
      const span: Span = { start: at, opened: end, close: -1, end }
      spans.push(span)
      if (text[end - 2] !== "/" && open.push(span) > DEEPEST) return fault("depth", at)
    }
    from = end
  }
}

function closeSpan(span: Span | undefined, at: number, end: number): void {
  if (!span) return // the parser of the tree will say what is wrong
  span.close = at
  span.end = end
}

/** Looks for a "&" that begins no reference known to all XML readers, in stretches that follow each other. */
class References {
  private at: number

  constructor(private readonly text: string) {
    this.at = text.indexOf("&")
  }

  firstBad(from: number, to: number): number | undefined {
    while (this.at >= 0 && this.at < to) {
      if (this.at >= from && !this.isGood()) return this.at
      this.at = this.text.indexOf("&", this.at + 1)
    }
    return undefined
  }

  private isGood(): boolean {
    REFERENCE.lastIndex = this.at
    const found = REFERENCE.exec(this.text)
    if (!found) return false
    if (found[1]) return isCharacter(Number(found[1]))
    return found[2] === undefined || isCharacter(Number.parseInt(found[2], 16))
  }
}

function isCharacter(code: number): boolean {
  return code <= 0x10ffff && !FORBIDDEN.test(String.fromCodePoint(code))
}

/** Offset after the tag, comment, instruction, CDATA section or DOCTYPE that begins at `at`; -1 when it has no end. */
function endOfMarkup(text: string, at: number): number | "entities" {
  const after = (mark: string, from: number) => {
    const found = text.indexOf(mark, from)
    return found < 0 ? -1 : found + mark.length
  }
  if (text.startsWith("<!--", at)) return after("-->", at + 4)
  if (text.startsWith("<![CDATA[", at)) return after("]]>", at + 9)
  if (text.startsWith("<?", at)) return after("?>", at + 2)
  if (text.startsWith("<!", at)) return endOfDoctype(text, at)
  return endOfTag(text, at)
}

function endOfTag(text: string, at: number): number {
  let i = at + 1
  while (i < text.length) {
    const c = text[i]
    if (c === ">") return i + 1
    if (c === '"' || c === "'") {
      i = text.indexOf(c, i + 1)
      if (i < 0) return -1
    }
    i++
  }
  return -1
}

function endOfDoctype(text: string, at: number): number | "entities" {
  const bracket = text.indexOf("[", at)
  const close = text.indexOf(">", at)
  if (close < 0) return -1
  if (bracket < 0 || bracket > close) return close + 1
  const end = text.indexOf("]", bracket)
  const inner = text.slice(bracket, end < 0 ? text.length : end)
  if (/<!ENTITY/i.test(inner) || inner.includes("%")) return "entities"
  const last = end < 0 ? -1 : text.indexOf(">", end)
  return last < 0 ? -1 : last + 1
}
