/** Decisions in an edited text: made, changed and taken back where they stand; their signs get an id to be named by. */
import type { Decision, Page } from "../../../page/index.js"
import type { Traced } from "../document.js"
import { toName } from "../tokens.js"
import { decisionXml } from "../write/decisions.js"
import { attribute, elementsIn, textIn, type XmlElement } from "../xml.js"
import { difference, same } from "../../../page/index.js"
import type { ElementPatcher } from "./element.js"
import type { Origins } from "./origins.js"

export function patchDecisions(patcher: ElementPatcher, traced: Traced, origins: Origins, page: Page): void {
  const { original } = traced.document
  if (original.decisions === page.decisions) return
  const before = original.decisions ?? []
  const now = page.decisions ?? []
  const elements = new Map(before.map((one, index) => [one.id, traced.reader.decisions[index]!]))
  const found = difference(before, now)
  for (const one of found.gone) patcher.remove(elements.get(one.id)!)
  let last: XmlElement | undefined
  let fresh: Decision[] = []
  const put = (next?: XmlElement): void => {
    const text = patcher.text(fresh.map(decisionXml))
    if (fresh.length > 0) insert(patcher, traced, text, last, next)
    fresh = []
  }
  for (const [index, { sign: decision, old }] of found.now.entries()) {
    if (!old) {
      fresh.push(decision)
      continue
    }
    const element = elements.get(old.id)!
    put(element)
    patchDecision(patcher, element, old, decision)
    // one without an id of its own is called by its number
    if (before.indexOf(old) !== index && attribute(element, "xml:id") === undefined)
      patcher.set(element, "xml:id", toName(old.id))
    last = element
  }
  put()
  nameSigns(patcher, traced, origins, now)
}

function patchDecision(patcher: ElementPatcher, element: XmlElement, old: Decision, now: Decision): void {
  if (same(old, now)) return
  const [before, after] = [decisionXml(old), decisionXml(now)]
  for (const name of ["label", "plist", "resp"])
    if (before.attributes[name] !== after.attributes[name]) patcher.set(element, name, after.attributes[name])
  patcher.patchType(element, before, after)
  if (textIn(element) !== (now.why ?? "")) patcher.setText(element, now.why ?? "")
}

/** After the decision before it, or before the one after it, or at the end of the last section with a staff. */
function insert(
  patcher: ElementPatcher,
  { tree }: Traced,
  text: string,
  last: XmlElement | undefined,
  next: XmlElement | undefined,
): void {
  if (last) return patcher.edits.insert(patcher.spanOf(last).end, text)
  if (next) return patcher.edits.insert(patcher.spanOf(next).start, text)
  let section: XmlElement | undefined
  for (const element of elementsIn(tree.root)) if (element.localName === "section") section = element
  if (section) patcher.edits.append(patcher.spanOf(section), text)
}

/** The signs decided on that have no xml:id in the text. */
function nameSigns(patcher: ElementPatcher, { sources }: Traced, origins: Origins, now: readonly Decision[]): void {
  for (const { sign } of now) {
    const source = sources.get(sign)
    if (!source || source.attributes !== undefined || origins.dissolved.has(sign)) continue
    if (attribute(source.element, "xml:id") !== toName(sign)) patcher.set(source.element, "xml:id", toName(sign))
  }
}
