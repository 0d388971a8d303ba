/** Syllables under the notes. */
import type { SignId } from "../../base/index.js"
import type { Note, Sign, Syllable } from "../../page/index.js"
import type { Box, Item, TypeStyle } from "../scene/scene.js"
import { markBox, type DrawnSign } from "../signs/index.js"
import { ELISION, textWidth } from "../text/width.js"
import { TEXT_SIZE } from "./options.js"

/** A syllable that stands under a note; `x` is where it begins, from the cell's own zero. */
export interface Word extends Syllable {
  readonly sign: SignId
  readonly x: number
  readonly width: number
  /** Of its letters, where it is wider than a line. */
  readonly size?: number
}

/** The notes of a sign: itself, or those of a ligature. */
export const notesIn = (sign: Sign): readonly Note[] =>
  sign.kind === "note" ? [sign] : sign.kind === "ligature" ? sign.members.filter(one => one.kind === "note") : []

export function wordsOf(sign: Sign, { item, body }: DrawnSign): Word[] {
  const sung = notesIn(sign).filter(note => note.syllables.length > 0)
  if (sung.length === 0) return []
  const heads = sign.kind === "ligature" ? bodies(item) : undefined
  return sung.flatMap(note => {
    const x = heads ? (heads.get(note.id)?.left ?? 0) : body.left
    return joined(note.syllables).map(syllable => wordOf(syllable, note.id, x))
  })
}

export const wordType = ({ italic, size = TEXT_SIZE }: Pick<Word, "italic" | "size">): TypeStyle => ({
  family: "words",
  size,
  ...(italic ? { italic } : {}),
})

/** A syllable wider than the room is set smaller, and where even half its size is too wide its letters stand closer. */
export function narrowed(word: Word, room: number): Word {
  if (word.width <= room) return word
  const size = TEXT_SIZE * Math.max(SMALLEST, room / word.width)
  return { ...word, size, width: Math.min(room, textWidth(word.text, wordType({ ...word, size }))) }
}
const SMALLEST = 0.5
export const wordOf = (syllable: Syllable, sign: SignId, x: number): Word => ({
  ...syllable,
  sign,
  x,
  width: textWidth(syllable.text, wordType(syllable)),
})

/** Several syllables of one stanza on one note stand together as one word. */
function joined(syllables: readonly Syllable[]): readonly Syllable[] {
  if (syllables.length < 2) return syllables
  const byStanza = new Map<number, Syllable>()
  for (const syllable of syllables) {
    const before = byStanza.get(syllable.stanza)
    const between = before?.join === "~" ? ELISION : before?.join === "-" ? "" : " "
    byStanza.set(syllable.stanza, before ? { ...syllable, text: before.text + between + syllable.text } : syllable)
  }
  return [...byStanza.values()]
}

/** Left and right edge of each note of the item, by id. */
function bodies(item: Item): ReadonlyMap<string, Box> {
  const found = new Map<string, Box>()
  const visit = (one: Item, sign: string | undefined) => {
    if (one.shape === "group") for (const inner of one.content) visit(inner, one.sign ?? sign)
    else if (one.part === "head" && sign !== undefined) found.set(sign, markBox(one))
  }
  visit(item, undefined)
  return found
}
