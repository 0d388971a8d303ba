/** From page to text: the normal form, in which every page has exactly one spelling. */
import type { Page } from "../page.js"
import type { Coloration, Comment, Note, Sign, Syllable } from "../signs.js"
import { writeDecision } from "./decisions.js"
import * as header from "./header.js"
import { IdCounter } from "./ids.js"
import { fitsLyricLine, writeSyllables } from "./lyrics.js"
import { inOrder } from "./property.js"
import { writeYears } from "./years.js"
import { writePiece, writeSign, type Piece, type Writing } from "./write-sign.js"

/** Lines of music are broken after this many columns, where nothing on the page breaks them before. */
const WIDTH = 90

/** The page in the shorthand. `parseShorthand` reads the same page from it, ids included. */
export function printShorthand(page: Page): string {
  const taken = new Set<string>()
  const people = page.people && inOrder(page.people).map(([id, name]) => header.writePerson(id, name))
  const head = [
    writeTitle(page.title),
    ...(page.years ? [writeYears(page.years)] : []),
    ...(people?.length === 0 ? ["people"] : (people ?? [])),
    ...page.shapes.map(header.writeShape),
    ...page.surfaces.map(header.writeSurface),
    ...page.zones.map(header.writeZone),
  ]
  const voices = page.voices.map((voice, index) => {
    const lines = writeRun(voice.signs, new IdCounter(voice.n, taken), true)
    return [header.writeVoice(voice, index + 1), ...lines]
  })
  const last = page.voices.at(-1)
  const alternatives = page.alternatives.map((one, index) => {
    const voice = page.voices.find(({ id }) => id === one.voice)
    const lines = writeRun(one.signs, new IdCounter(header.alternativePrefix(voice, index + 1), taken), false)
    return [header.writeAlternative(one, index + 1, voice, last), ...lines]
  })
  const decisions = page.decisions?.map((one, index) => writeDecision(one, index + 1)) ?? []
  return [head, ...voices, ...alternatives, ...(decisions.length > 0 ? [decisions] : [])]
    .map(block => block.join("\n") + "\n")
    .join("\n")
}

function writeTitle(title: string): string {
  const plain = title === title.trim() && !/[\p{C}\u2028\u2029]/u.test(title) && !/^".*"$/.test(title)
  return `title:${title === "" ? "" : ` ${plain ? title : JSON.stringify(title)}`}`
}

/** The lines of a voice or an alternative: music, with lyrics under it, and remarks on lines of their own. */
function writeRun(signs: readonly Sign[], ids: IdCounter, ofVoice: boolean): string[] {
  const writing: Writing = { level: undefined, octave: undefined, leading: ofVoice, ids }
  const lines: string[] = []
  const lyrics = new LyricWriter(lines)
  let line: Piece[] = []
  let width = 0
  const flush = () => {
    if (line.length > 0) lyrics.music(layOut(line))
    line = []
    width = 0
  }
  for (const sign of signs) {
    const wasLeading = writing.leading
    const piece = writeSign(sign, writing)
    if (wasLeading && !writing.leading) flush()
    const columns = piece.head.length + piece.tail.length + 1
    if (width + columns > WIDTH || sign.kind === "break" || sign.kind === "comment") flush()
    if (sign.kind === "comment" && piece.tail === "" && isOneLine(sign)) {
      lyrics.remark(sign.text === "" ? "%" : `% ${sign.text}`)
      continue
    }
    line.push(piece)
    width += columns
  }
  flush()
  return lines
}

/** A text that a remark can hold as it is; others are quoted. */
function isOneLine({ text }: Comment): boolean {
  return !/[\p{C}\u2028\u2029\ufeff]/u.test(text)
}

interface Line {
  readonly text: string
  readonly slots: readonly { readonly note: Note; readonly column: number }[]
}

/** Puts the pieces side by side; two or more coloured alike are gathered in braces. */
function layOut(pieces: readonly Piece[]): Line {
  const slots: { note: Note; column: number }[] = []
  let text = ""
  let inForce: Coloration = "none"
  pieces.forEach((piece, index) => {
    if (text !== "") text += " "
    if (inForce === "none" && beginsSpan(pieces, index)) {
      inForce = piece.coloration ?? "none"
      text += `${inForce}{`
    }
    if (piece.slot) slots.push({ note: piece.slot, column: text.length })
    text += writePiece(piece, inForce)
    if (inForce !== "none" && nextColoured(pieces, index)?.coloration !== inForce) {
      text += "}"
      inForce = "none"
    }
  })
  return { text, slots }
}

function nextColoured(pieces: readonly Piece[], index: number): Piece | undefined {
  for (let next = index + 1; next < pieces.length; next++) if (pieces[next]?.coloration) return pieces[next]
  return undefined
}
/** A ligature has nowhere else to say its coloration, so it makes a stretch by itself. */
function beginsSpan(pieces: readonly Piece[], index: number): boolean {
  const piece = pieces[index] as Piece
  if (!piece.coloration || piece.coloration === "none") return false
  return piece.head.startsWith("[") || nextColoured(pieces, index)?.coloration === piece.coloration
}

/** Writes lines of lyrics under the music, each syllable under its note where there is room. */
class LyricWriter {
  /** Notes above, since the last lyrics, that these would have to pass over. */
  private passed = 0
  private sung = false

  constructor(private readonly lines: string[]) {}

  remark(text: string): void {
    this.beginLine()
    this.lines.push(text)
  }

  music({ text, slots }: Line): void {
    this.beginLine()
    this.lines.push(text)
    const stanzas = new Set(
      slots.flatMap(({ note }) => (fitsLyricLine(note.syllables) ? note.syllables : []).map(one => one.stanza)),
    )
    for (const stanza of [...stanzas].sort((a, b) => a - b)) this.lines.push(this.sing(stanza, slots))
    if (stanzas.size > 0) this.sung = true
    else this.passed += slots.length
  }

  private beginLine(): void {
    if (this.sung) this.passed = 0
    this.sung = false
  }

  private sing(stanza: number, slots: Line["slots"]): string {
    let line = stanza === 1 ? ">" : `${stanza}>`
    if (this.passed > 0) line += ` *${this.passed}`
    let silent = ""
    for (const { note, column } of slots) {
      const mine: Syllable[] = fitsLyricLine(note.syllables) ? note.syllables.filter(one => one.stanza === stanza) : []
      const placed = (line + silent).padEnd(column - 1) + " "
      if (mine.length === 0) silent = `${placed}*`.slice(line.length)
      else {
        line = placed + writeSyllables(mine)
        silent = ""
      }
    }
    return line
  }
}
