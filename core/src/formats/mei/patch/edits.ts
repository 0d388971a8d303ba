/** Changes to a text, gathered by offset and applied at once; all that no change names stays as it is, to the byte. */
import type { Span } from "../scan.js"

interface Edit {
  readonly from: number
  readonly to: number
  readonly text: string
  /** At one place: what closes comes first, then what is put in, then what opens. */
  readonly rank: number
  readonly order: number
}

export interface Attribute {
  readonly name: string
  /** With the blank before it. */
  readonly from: number
  readonly to: number
  /** Between the quotes. */
  readonly valueFrom: number
  readonly valueTo: number
  readonly quote: string
}

export class Edits {
  private readonly edits: Edit[] = []
  private readonly removed: { from: number; to: number }[] = []
  /** What is put into elements that had no content, so that their tag must be opened first. */
  private readonly opened = new Map<Span, string[]>()

  private readonly attributes = new Map<Span, Map<string, string | undefined>>()

  constructor(readonly source: string) {}

  replace(from: number, to: number, text: string, rank = 1): void {
    this.edits.push({ from, to, text, rank, order: this.edits.length })
  }
  remove(from: number, to: number): void {
    this.removed.push({ from, to })
  }
  insert(at: number, text: string): void {
    this.replace(at, at, text)
  }
  /** Puts `text` in the place of the stretch, within what goes around it. */
  exchange(from: number, to: number, text: string): void {
    this.remove(from, to)
    this.replace(from, from, text, 2.5)
  }
  /** `before` and `after` go around the stretch. */
  wrap(from: number, to: number, before: string, after: string): void {
    this.replace(from, from, before, 2)
    this.replace(to, to, after, 0)
  }
  /** Puts `text` at the end of the element's content. */
  append(span: Span, text: string): void {
    if (span.close >= 0) this.insert(span.close, text)
    else this.opened.set(span, [...(this.opened.get(span) ?? []), text])
  }

  attributesOf(span: Span): Attribute[] {
    const tag = this.source.slice(span.start, span.opened)
    return [...tag.matchAll(/\s+([^\s=/>]+)\s*=\s*("[^"]*"|'[^']*')/g)].map(found => {
      const from = span.start + found.index
      const to = from + found[0].length
      return { name: found[1]!, from, to, valueFrom: to - found[2]!.length + 1, valueTo: to - 1, quote: found[2]![0]! }
    })
  }

  /** Sets an attribute; undefined takes it out. `value` is escaped already. The last word on an attribute counts. */
  setAttribute(span: Span, name: string, value: string | undefined): void {
    const changes = this.attributes.get(span) ?? new Map<string, string | undefined>()
    this.attributes.set(span, changes.set(name, value))
  }

  private applyAttributes(span: Span, changes: ReadonlyMap<string, string | undefined>): void {
    const written = new Map(this.attributesOf(span).map(one => [one.name, one]))
    for (const [name, value] of changes) {
      const found = written.get(name)
      if (found && value === undefined) this.replace(found.from, found.to, "")
      else if (found) this.replace(found.valueFrom, found.valueTo, quoted(value!, found.quote))
      else if (value !== undefined) this.insert(span.opened - (this.isEmptyTag(span) ? 2 : 1), ` ${name}="${value}"`)
    }
  }

  nameOf(span: Span): string {
    return /^<([^\s/>]+)/.exec(this.source.slice(span.start, span.opened))?.[1] ?? ""
  }
  isEmptyTag(span: Span): boolean {
    return span.close < 0
  }

  /** The new text. Changes inside a stretch that is taken out go with it. */
  apply(): string {
    for (const [span, changes] of this.attributes) this.applyAttributes(span, changes)
    for (const [span, texts] of this.opened)
      this.replace(span.opened - 2, span.opened, `>${texts.join("")}</${this.nameOf(span)}>`, 3)
    const removed = outermost(this.removed)
    const all = [
      ...this.edits.filter(edit => !isLost(edit, removed)),
      ...removed.map((one, order) => ({ ...one, text: "", rank: 1.5, order })),
    ]
    all.sort((a, b) => a.from - b.from || a.rank - b.rank || a.order - b.order)
    let text = ""
    let at = 0
    for (const edit of all) {
      text += this.source.slice(at, Math.max(at, edit.from)) + edit.text
      at = Math.max(at, edit.to)
    }
    return text + this.source.slice(at)
  }
}

function quoted(value: string, quote: string): string {
  return quote === "'" ? value.replace(/'/g, "&apos;") : value
}

type Stretch = { from: number; to: number }

/** Those that no other one contains, in order. */
function outermost(stretches: readonly Stretch[]): Stretch[] {
  const found: Stretch[] = []
  for (const one of [...stretches].sort((a, b) => a.from - b.from || b.to - a.to)) {
    const last = found.at(-1)
    if (!last || one.to > last.to) found.push(one)
  }
  return found
}

/** True for a change within one of these stretches. What is put in just before or after a stretch survives it. */
function isLost(edit: Edit, stretches: readonly Stretch[]): boolean {
  let low = 0
  let high = stretches.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (stretches[middle]!.from <= edit.from) low = middle + 1
    else high = middle
  }
  return stretches.slice(Math.max(0, low - 2), low).some(one => {
    const atEdge = edit.from === edit.to && (edit.from === one.from || edit.from === one.to)
    return edit.from >= one.from && edit.to <= one.to && !atEdge
  })
}
