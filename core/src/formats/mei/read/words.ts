/** The words under a note. */
import type { Sign, Syllable } from "../../../page/index.js"
import { attribute, childrenOf, textIn, type XmlElement } from "../xml.js"
import { partsOf, type Part } from "./note-parts.js"
import { trim, type Reader } from "./reader.js"

export function syllablesOf(reader: Reader, parts: readonly Part[]): Syllable[] {
  return parts.flatMap(({ element }) => {
    if (element.localName === "syl") return syllableOf(element, reader.whole(element, "n", 1, 999) ?? 1)
    if (element.localName !== "verse" && element.localName !== "refrain") return []
    if (isCopiedVerse(reader, element)) return []
    const stanza = /^\d/.test(attribute(element, "n") ?? "") ? (reader.whole(element, "n", 1, 999) ?? 1) : 1
    return partsOf(element).flatMap(part => (part.element.localName === "syl" ? syllableOf(part.element, stanza) : []))
  })
}

/**
 * Some converters put a voice's words under all voices that sound at the same time, ids and all: an id stands once in a
 * document (XML 1.0, validity constraint “ID”), so they belong where they stand first.
 */
function isCopiedVerse(reader: Reader, verse: XmlElement): boolean {
  const id = attribute(verse, "xml:id")
  const first = id === undefined ? undefined : reader.verses.get(id)
  if (id !== undefined && !first) reader.verses.set(id, verse)
  if (!first || first === verse || textIn(first) !== textIn(verse)) return false
  if (!reader.problems.some(one => one.code === "copied-verses"))
    reader.report(
      "copied-verses",
      "Words stand again under notes of other voices, with the same xml:id; they are read where they stand first.",
      "Take the copies out, or give them ids of their own if they are meant.",
      verse,
      "warning",
    )
  return true
}

function syllableOf(syl: XmlElement, stanza: number): Syllable[] {
  const text = textIn(syl)
  if (text === "") return []
  const rend = childrenOf(syl).find(child => child.localName === "rend")
  const italic = [
    attribute(syl, "fontstyle"),
    rend && attribute(rend, "fontstyle"),
    rend && attribute(rend, "rend"),
  ].includes("italic")
  return [trim({ stanza, text, join: joinOf(syl), italic: italic || undefined })]
}

function joinOf(syl: XmlElement): Syllable["join"] {
  const con = attribute(syl, "con")
  if (con === "d") return "-"
  if (con === "u") return "_"
  if (con === "s") return " "
  if (con !== undefined) return "~"
  const position = attribute(syl, "wordpos")
  return position === "i" || position === "m" ? "-" : " "
}

/** The note, or the ligature's first, with these syllables; words of its own that it has are not lost for them. */
export function withSyllables(reader: Reader, sign: Sign, syllables: readonly Syllable[]): Sign {
  if (sign.kind === "note") return sign.syllables.length > 0 ? sign : { ...sign, syllables }
  if (sign.kind !== "ligature") return sign
  const first = sign.members.find(one => one.kind === "note")
  if (!first || first.syllables.length > 0) return sign
  const changed = { ...first, syllables }
  reader.passOn(first, changed)
  return { ...sign, members: sign.members.map(one => (one === first ? changed : one)) }
}
