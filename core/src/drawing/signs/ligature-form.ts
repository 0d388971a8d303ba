/**
 * How a ligature is drawn when a file gives only the levels of its notes, or only propriety and perfection in words: the shape
 * that says the same. What was recorded of the drawn shape is never changed.
 */
import type { Level, Ligature, Note } from "../../page/index.js"
import { withBody, withSides } from "../../practices/index.js"
import { positionIn } from "./ligature-places.js"

interface Ends {
  readonly propriety: "cum" | "sine" | "opposita"
  readonly perfection: "cum" | "sine"
}
type Extra = { -readonly [Part in "stems" | "oblique" | "head" | "wide"]?: Note[Part] }

/** The notes with stems, obliques and heads as they are to be drawn. `late`: last longs going up are stemmed, not set above. */
export function formed(ligature: Ligature, notes: readonly Note[], late: boolean): readonly Note[] {
  if (ligature.conjunctura || notes.length < 2) return notes
  if (hasForm(notes)) return withBody(ligature, withSides(notes))
  const ends = endsOf(ligature, notes)
  const extras: Extra[] = notes.map(note => (note.level === "maxima" ? { wide: true } : {}))
  if (ends) {
    Object.assign(extras[0]!, beginning(ends, rises(notes, 0)))
    ending(ends, notes, extras, late)
  }
  if (ligature.form === "obliqua") extras[notes.length - 2]!.oblique = true
  return notes.map((note, i) => ({ ...note, ...extras[i] }))
}

const hasForm = (notes: readonly Note[]): boolean =>
  notes.some(note => note.oblique || note.head !== undefined || note.stems.some(stem => stem.position !== "center"))
const rises = (notes: readonly Note[], at: number): boolean => positionIn(notes[at + 1]!) > positionIn(notes[at]!)

function endsOf({ propriety, perfection }: Ligature, notes: readonly Note[]): Ends | undefined {
  if (propriety !== undefined || perfection !== undefined)
    return { propriety: propriety ?? "cum", perfection: perfection ?? "cum" }
  const levels = notes.map(note => note.level)
  if (levels.every(level => level === undefined)) return undefined
  return { propriety: proprietyOf(levels), perfection: levels.at(-1) === "longa" ? "cum" : "sine" }
}

function proprietyOf([first, second]: readonly (Level | undefined)[]): Ends["propriety"] {
  if (first === "semibrevis" && second === "semibrevis") return "opposita"
  return first === "longa" ? "sine" : "cum"
}

function beginning({ propriety }: Ends, up: boolean): Extra {
  if (propriety === "opposita") return { stems: [{ direction: "up", position: "left" }] }
  if (propriety === "cum") return up ? {} : { stems: [{ direction: "down", position: "left" }] }
  return up ? { stems: [{ direction: "down", position: "right" }] } : {}
}

function ending({ propriety, perfection }: Ends, notes: readonly Note[], extras: Extra[], late: boolean): void {
  const last = notes.length - 1
  if (notes.length === 2 && propriety === "opposita") return
  if (notes[last]!.level === "maxima" || notes[last]!.plica) return
  if (!rises(notes, last - 1)) {
    if (perfection === "sine") extras[last - 1]!.oblique = true
  } else if (perfection === "cum" && late) extras[last]!.stems = [{ direction: "down", position: "right" }]
  else if (perfection === "cum") extras[last]!.head = "over"
}
