/** Bars of silence: however many rests the page writes for one, a modern staff has one rest in it. */
import type { Piece } from "./split.js"

/**
 * The pieces of one bar, or one rest where there are nothing but rests. A rest with a fermata stays as it is, silence that
 * stands for no sign is not counted with rests of the page, nor are an editor's rests with those of the source. Rests among notes, in a hocket above all, stay apart.
 */
export function joinRests(pieces: readonly Piece[]): readonly Piece[] {
  const [first, ...others] = pieces
  if (!first || others.length === 0) return pieces
  const plain = pieces.every(({ event }) => event.kind === "rest" && !event.fermata)
  const alike = pieces.every(
    ({ event }) => (event.id === null) === (first.event.id === null) && event.hand === first.event.hand,
  )
  return plain && alike ? [{ ...first, end: others.at(-1)!.end }] : pieces
}
