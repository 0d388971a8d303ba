/** Years of an edited page, put into the head of the file. */
import { same, spanText, type Page, type Years, type YearSpan } from "../../../page/index.js"
import type { XmlElement as NewElement } from "../../xml.js"
import { DATING, datedElements } from "../read/years.js"
import {
  creationXml,
  dateXml,
  datingAttributes,
  manifestationListXml,
  manifestationXml,
  workListXml,
} from "../write/years.js"
import { childOf, childrenOf, elementsIn, type XmlElement } from "../xml.js"
import type { ElementPatcher } from "./element.js"

export function patchYears(patcher: ElementPatcher, header: XmlElement, old: Page, page: Page): void {
  const known = datedElements(header)
  for (const kind of ["made", "copied"] as const) {
    const span = page.years?.[kind]
    if (same(old.years?.[kind], span)) continue
    const [first, ...others] = known[kind]
    // together they said other years
    for (const other of span ? others : known[kind]) unsay(patcher, other)
    if (span && first) say(patcher, first, span)
    else if (span) put(patcher, header, kind, span, page.title)
  }
}

function unsay(patcher: ElementPatcher, element: XmlElement): void {
  if (element.localName === "date") patcher.remove(element)
  else for (const name of DATING) patcher.set(element, name, undefined)
}

function say(patcher: ElementPatcher, element: XmlElement, span: YearSpan): void {
  const wanted = datingAttributes(span)
  for (const name of DATING) patcher.set(element, name, wanted[name])
  if (element.localName === "date" && childrenOf(element).length === 0) patcher.setText(element, spanText(span))
}

/** Into a file that does not say them. */
function put(patcher: ElementPatcher, header: XmlElement, kind: keyof Years, span: YearSpan, title: string): void {
  const within = (name: string): XmlElement | undefined => [...elementsIn(header)].find(one => one.localName === name)
  if (kind === "made") {
    const work = within("work")
    const creation = work && childOf(work, "creation")
    if (creation) patcher.edits.append(patcher.spanOf(creation), patcher.text([dateXml(span)]))
    else if (work) before(patcher, work, AFTER_CREATION, creationXml(span))
    else before(patcher, header, AFTER_WORKS, workListXml(title, { made: span })!)
    return
  }
  const list = within("manifestationList")
  if (list) patcher.edits.append(patcher.spanOf(list), patcher.text([manifestationXml(span)]))
  else before(patcher, header, AFTER_MANIFESTATIONS, manifestationListXml({ copied: span })!)
}

// the order of MEI's schema
const AFTER_MANIFESTATIONS = ["extMeta", "revisionDesc"]
const AFTER_WORKS = ["manifestationList", ...AFTER_MANIFESTATIONS]
const AFTER_CREATION = [
  "history",
  "langUsage",
  "perfMedium",
  "perfDuration",
  "audience",
  "contents",
  "context",
  "biblList",
  "notesStmt",
  "classification",
  "expressionList",
  "componentList",
  "relationList",
  "extMeta",
]

/** Puts the new element before the first child of one of these names; at the end where there is none. */
function before(patcher: ElementPatcher, parent: XmlElement, names: readonly string[], fresh: NewElement): void {
  const next = childrenOf(parent).find(child => names.includes(child.localName))
  const text = patcher.text([fresh])
  if (next) patcher.edits.insert(patcher.spanOf(next).start, text)
  else patcher.edits.append(patcher.spanOf(parent), text)
}
