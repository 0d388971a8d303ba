/** Two syllables on one note: a blank between them with a bow under it, drawn, since few typefaces have one. */
import type { Mark, Path, TextMark } from "../scene/scene.js"
import { ELISION, textWidth } from "./width.js"

/** The text with blanks for its bows, and the bows. */
export function elided(mark: TextMark): Mark[] {
  if (!mark.text.includes(ELISION)) return [mark]
  const { size } = mark.type
  const natural = textWidth(mark.text, mark.type)
  const press = natural > 0 ? (mark.length ?? natural) / natural : 1
  const bows: Mark[] = []
  for (let at = mark.text.indexOf(ELISION); at >= 0; at = mark.text.indexOf(ELISION, at + 1)) {
    const from = mark.x + textWidth(mark.text.slice(0, at), mark.type) * press
    const to = mark.x + textWidth(mark.text.slice(0, at + 1), mark.type) * press
    const path = bow(from - REACH * size, to + REACH * size, mark.y + DROP * size, DEPTH * size)
    bows.push({ shape: "path", part: "elision", path, ...(mark.sign ? { sign: mark.sign } : {}), fill: "ink" })
  }
  return [{ ...mark, text: mark.text.replaceAll(ELISION, " ") }, ...bows]
}
/** In parts of the size of the letters: how far a bow reaches under its neighbours, how far below the line it hangs, how deep it is. */
const REACH = 0.16
const DROP = 0.06
const DEPTH = 0.2

function bow(left: number, right: number, y: number, deep: number): Path {
  const middle = (left + right) / 2
  return [["M", left, y], ["Q", middle, y + deep * 1.5, right, y], ["Q", middle, y + deep, left, y], ["Z"]]
}
