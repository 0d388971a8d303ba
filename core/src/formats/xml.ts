/** A small builder of XML text: names and attributes as data, everything escaped when it is written. */

export type XmlValue = string | number | undefined
export interface XmlElement {
  readonly name: string
  /** In the order written; those that are undefined are left out. */
  readonly attributes: Readonly<Record<string, XmlValue>>
  readonly children: readonly (XmlElement | string)[]
}
/** What a caller may give as a child; empty places are left out. */
export type XmlChild = XmlElement | string | undefined

export function element(name: string, attributes: Record<string, XmlValue> = {}, ...children: XmlChild[]): XmlElement {
  return { name, attributes, children: children.filter(child => child !== undefined) }
}

/** Characters that XML 1.0 cannot hold at all, not even as references: lone surrogates and most controls. */
const IMPOSSIBLE =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g

/** Text as it may stand between tags; what XML cannot hold becomes U+FFFD. */
export function escapeText(text: string): string {
  return text
    .replace(IMPOSSIBLE, "\ufffd")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/\r/g, "&#13;")
}
/** Text as it may stand between double quotes. */
export function escapeAttribute(text: string): string {
  return escapeText(text).replace(/"/g, "&quot;").replace(/\n/g, "&#10;").replace(/\t/g, "&#9;")
}

/** The whole document with its declaration, indented by two spaces except where text stands among elements. */
export function xmlDocument(root: XmlElement): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${toXml(root)}\n`
}

export function toXml(node: XmlElement, indent = ""): string {
  const open = `${indent}<${node.name}${attributesOf(node)}`
  if (node.children.length === 0) return `${open}/>`
  if (node.children.some(child => typeof child === "string"))
    return `${open}>${node.children.map(inline).join("")}</${node.name}>`
  const inner = node.children.map(child => (typeof child === "string" ? "" : toXml(child, `${indent}  `)))
  return `${open}>\n${inner.join("\n")}\n${indent}</${node.name}>`
}

function inline(node: XmlElement | string): string {
  if (typeof node === "string") return escapeText(node)
  const open = `<${node.name}${attributesOf(node)}`
  return node.children.length === 0 ? `${open}/>` : `${open}>${node.children.map(inline).join("")}</${node.name}>`
}

function attributesOf(node: XmlElement): string {
  return Object.entries(node.attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${escapeAttribute(String(value))}"`)
    .join("")
}
