/** One element of the text changed so that it tells of the changed sign; all that does not tell of it stays. */
import type { Sign } from "../../../page/index.js"
import { escapeAttribute, escapeText, toXml, type XmlElement as NewElement } from "../../xml.js"
import type { Span } from "../scan.js"
import { splitTokens } from "../tokens.js"
import { attribute, childrenOf, elementsIn, type XmlElement } from "../xml.js"
import { same } from "../../../page/index.js"
import type { Edits } from "./edits.js"
import { GROUPS } from "./fields.js"

export class ElementPatcher {
  private readonly spans = new Map<XmlElement, Span>()
  private readonly prefix: string

  constructor(
    readonly edits: Edits,
    root: XmlElement,
    spans: readonly Span[],
  ) {
    let index = 0
    for (const element of elementsIn(root)) this.spans.set(element, spans[index++]!)
    this.prefix = root.nodeName.includes(":") ? root.nodeName.slice(0, root.nodeName.indexOf(":") + 1) : ""
  }

  spanOf(element: XmlElement): Span {
    return this.spans.get(element)!
  }

  /** New elements as text on one line, in the namespace prefix of the file. */
  text(elements: readonly NewElement[]): string {
    return elements.map(one => oneLine(toXml(this.prefix ? prefixed(one, this.prefix) : one))).join("")
  }

  remove(element: XmlElement): void {
    const { start, end } = this.spanOf(element)
    this.edits.remove(start, end)
  }

  /** `before` and `after` are how a new file would write the sign as it was and as it is. */
  patch(element: XmlElement, old: Sign, sign: Sign, before: NewElement, after: NewElement): void {
    if (element.localName !== after.name) {
      const { start, end } = this.spanOf(element)
      this.edits.exchange(start, end, this.text([after]))
      return
    }
    const owned = this.patchGroups(element, old, sign, after)
    for (const name of new Set([...Object.keys(before.attributes), ...Object.keys(after.attributes)]))
      if (
        name !== "xml:id" &&
        name !== "type" &&
        !owned.has(name) &&
        before.attributes[name] !== after.attributes[name]
      )
        this.set(element, name, after.attributes[name])
    this.patchType(element, before, after)
    this.patchText(element, before, after)
  }

  set(element: XmlElement, name: string, value: string | number | undefined): void {
    const written = element.getAttribute(name)
    const wanted = value === undefined ? null : String(value)
    if (written !== wanted)
      this.edits.setAttribute(this.spanOf(element), name, wanted === null ? undefined : escapeAttribute(wanted))
  }

  /** Attributes that belong to any group of members, changed or not. */
  private patchGroups(element: XmlElement, old: Sign, sign: Sign, after: NewElement): Set<string> {
    const groups = GROUPS[sign.kind] ?? []
    for (const { members, attributes, children } of groups) {
      const value = (of: Sign, member: string) => (of as unknown as Record<string, unknown>)[member]
      if (members.every(member => same(value(old, member), value(sign, member)))) continue
      for (const name of attributes) this.set(element, name, after.attributes[name])
      for (const child of childrenOf(element)) if (tellsOf(child, children)) this.remove(child)
      const fresh = after.children.filter(child => typeof child !== "string" && children.includes(child.name))
      if (fresh.length > 0) this.edits.append(this.spanOf(element), this.text(fresh as NewElement[]))
    }
    return new Set(groups.flatMap(one => one.attributes))
  }

  /** Words of the type that told of the old sign give way to those of the new; others stay. */
  patchType(element: XmlElement, before: NewElement, after: NewElement): void {
    const old = splitTokens(before.attributes["type"]?.toString())
    const fresh = splitTokens(after.attributes["type"]?.toString())
    if (same(old, fresh)) return
    const others = splitTokens(attribute(element, "type")).filter(word => !old.includes(word) && !fresh.includes(word))
    this.set(element, "type", [...fresh, ...others].join(" ") || undefined)
  }

  /** Texts of comments and marks. */
  private patchText(element: XmlElement, before: NewElement, after: NewElement): void {
    const texts = (of: NewElement) => of.children.filter(child => typeof child === "string")
    if (same(texts(before), texts(after))) return
    this.setText(element, texts(after).join(""))
  }

  setText(element: XmlElement, text: string): void {
    const span = this.spanOf(element)
    if (span.close >= 0) {
      this.edits.remove(span.opened, span.close)
      this.edits.insert(span.close, escapeText(text))
    } else this.edits.append(span, escapeText(text))
  }
}

/** A child of this name, or an editor's element around one. */
function tellsOf(child: XmlElement, names: readonly string[]): boolean {
  if (names.includes(child.localName)) return true
  const editorial = ["app", "choice", "subst", "supplied", "unclear", "corr", "reg", "orig", "sic", "add", "del"]
  return editorial.includes(child.localName) && [...elementsIn(child)].some(one => names.includes(one.localName))
}

function prefixed(element: NewElement, prefix: string): NewElement {
  const children = element.children.map(child => (typeof child === "string" ? child : prefixed(child, prefix)))
  return { ...element, name: prefix + element.name, children }
}

/** Between tags only; texts have no line breaks of their own there. */
function oneLine(xml: string): string {
  return xml.replace(/>\n\s*</g, "><")
}
