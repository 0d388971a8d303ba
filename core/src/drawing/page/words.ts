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

export function wordsOf(sign: Sign, { item, body }: DrawnSign): readonly Word[] {
  if (sign.kind === "note") return wordsUnder(sign, body.left)
  const sung = notesIn(sign).filter(note => note.syllables.length > 0)
  if (sung.length === 0) return NO_WORDS
  const heads = bodies(item)
  return sung.flatMap(note => wordsUnder(note, heads.get(note.id)?.left ?? 0))
}
export const NO_WORDS: readonly Word[] = []

/** Of a note whose head begins at x. */
export function wordsUnder({ syllables, id }: Note, x: number): readonly Word[] {
  return syllables.length === 0 ? NO_WORDS : joined(syllables).map(syllable => wordOf(syllable, id, x))
}

const UPRIGHT: TypeStyle = { family: "words", size: TEXT_SIZE }
const ITALIC: TypeStyle = { family: "words", size: TEXT_SIZE, italic: true }

/** The same object for all words of the usual size. */
export function wordType({ italic, size = TEXT_SIZE }: Pick<Word, "italic" | "size">): TypeStyle {
  if (size === TEXT_SIZE) return italic ? ITALIC : UPRIGHT
  return italic ? { ...ITALIC, size } : { ...UPRIGHT, size }
}

/** A syllable wider than the room is set smaller, and where even half its size is too wide its letters stand closer. */
export function narrowed(word: Word, room: number): Word {
  if (word.width <= room) return word
  const size = TEXT_SIZE * Math.max(SMALLEST, room / word.width)
  return { ...word, size, width: Math.min(room, textWidth(word.text, wordType({ ...word, size }))) }
}
const SMALLEST = 0.5
export function wordOf({ stanza, text, join, italic }: Syllable, sign: SignId, x: number): Word {
  const width = textWidth(text, italic ? ITALIC : UPRIGHT)
  // told one by one: spreading is several times slower
  return italic === undefined ? { stanza, text, join, sign, x, width } : { stanza, text, join, italic, sign, x, width }
}

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
