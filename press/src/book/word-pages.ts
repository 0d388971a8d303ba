/** The pages of a book that hold words: title, preface, the texts that are sung. */
import type { PrefaceSection, TitlePage, VoiceText } from "@resolutio/core"
import type { Span, Type } from "./flow.js"
import type { Sheets } from "./sheets.js"
import { SECOND, TYPES } from "./style.js"

/** Where the title stands, and the names of the voices at the earliest, in points. */
const TITLE_LINE = 150
const VOICES_LINE = 330

export function writeTitlePage(
  sheets: Sheets,
  { title, subtitles, by, voices, facts }: TitlePage,
  maker: string,
): void {
  const { type, y } = titleType(title)
  sheets.section(title, undefined, false)
  sheets.y = y ?? sheets.y
  sheets.heading(title, type, "H1", { after: 10 })
  for (const text of [...subtitles, ...by]) sheets.paragraph(text, TYPES.subtitle, { after: 4 })
  sheets.y = Math.max(sheets.y + 40, VOICES_LINE)
  for (const { name, range } of voices) {
    const compass: Span[] = range === "" ? [] : [{ text: `   ${range}`, face: "figures-400", fill: SECOND }]
    sheets.paragraph([{ text: name }, ...compass], TYPES.text, { after: 0 })
  }
  sheets.y += 30
  for (const { name, value } of facts)
    sheets.paragraph([{ text: `${name}: `, face: "words-400-italic", fill: SECOND }, { text: value }], TYPES.text)
  sheets.y = Math.max(sheets.y + 20, sheets.bottom - 20)
  sheets.paragraph(`Made with ${maker}.`, TYPES.note)
}

/** Smaller, where it is so long that it would fill the page; then from the top of the page on. */
function titleType({ length }: string): { readonly type: Type; readonly y?: number } {
  const { title, text } = TYPES
  const size = length < 90 ? title.size : length < 220 ? 24 : length < 600 ? 16 : text.size
  const type = { ...title, size, leading: size * 1.2 }
  return length < 600 ? { type, y: TITLE_LINE } : { type }
}

export function writePreface(sheets: Sheets, sections: readonly PrefaceSection[]): void {
  sheets.heading("Preface", TYPES.section, "H1", { after: 6 })
  for (const { heading, paragraphs } of sections) {
    sheets.heading(heading, TYPES.heading, "H2")
    for (const text of paragraphs) sheets.paragraph(text, TYPES.text)
  }
}

export function writeTexts(sheets: Sheets, texts: readonly VoiceText[]): void {
  sheets.heading("Texts", TYPES.section, "H1", { after: 6 })
  for (const { voices, sections } of texts) {
    if (sections.length > 0) sheets.heading(voices.join(", "), TYPES.heading, "H2")
    else writeWordless(sheets, voices)
    for (const section of sections) writeSection(sheets, section)
  }
}

function writeWordless(sheets: Sheets, voices: readonly string[]): void {
  sheets.y += 10
  sheets.paragraph(`Without words: ${voices.join(", ")}.`, TYPES.note)
}

function writeSection(sheets: Sheets, { name, stanzas }: VoiceText["sections"][number]): void {
  if (name !== undefined) sheets.paragraph(name, TYPES.note, { after: 2 })
  for (const { number, runs } of stanzas) {
    const spans = runs.map((run): Span => ({ text: run.text, ...(run.italic ? { face: "words-400-italic" } : {}) }))
    const counted: Span[] = stanzas.length > 1 ? [{ text: `${number}  `, face: "figures-400", fill: SECOND }] : []
    sheets.paragraph([...counted, ...spans], TYPES.text)
  }
}
