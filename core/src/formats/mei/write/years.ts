/** When the piece was made and its source copied, as elements of the head. */
import { spanText, type Years, type YearSpan } from "../../../page/index.js"
import { element, type XmlElement } from "../../xml.js"

/** What an element says of these years by its attributes. */
export function datingAttributes([from, to]: YearSpan): Record<string, string> {
  const year = (one: number): string => String(one).padStart(4, "0")
  return from === to ? { isodate: year(from) } : { notbefore: year(from), notafter: year(to) }
}

export const dateXml = (span: YearSpan): XmlElement => element("date", datingAttributes(span), spanText(span))
export const creationXml = (span: YearSpan): XmlElement => element("creation", {}, dateXml(span))
export const manifestationXml = (span: YearSpan): XmlElement => element("manifestation", {}, creationXml(span))

/** Of the piece; undefined where nothing is said of it. */
export function workListXml(title: string, years: Years | undefined): XmlElement | undefined {
  if (!years?.made) return undefined
  return element("workList", {}, element("work", {}, element("title", {}, title || undefined), creationXml(years.made)))
}

export function manifestationListXml(years: Years | undefined): XmlElement | undefined {
  return years?.copied && element("manifestationList", {}, manifestationXml(years.copied))
}
