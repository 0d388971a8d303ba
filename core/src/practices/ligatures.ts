/**
 * Levels of ligated notes from the drawn form: stems and direction at the beginning, place and body at the end.
 * Two systems: as codified c. 1280, and as taught from the Libellus (c. 1340) to Practica musicae (1496).
 */
import type { Ligature, Note } from "../page/index.js"
import { BREVIS, LONGA, MAXIMA, SEMIBREVIS } from "./mensuration.js"
import type { Settings } from "./types.js"

const STEPS = ["c", "d", "e", "f", "g", "a", "b"]

function height(note: Note): number {
  return note.pitch === undefined ? 0 : note.pitch.octave * 7 + STEPS.indexOf(note.pitch.step)
}
const stem = (note: Note, position: "left" | "right", direction: "up" | "down"): boolean =>
  note.stems.some(s => s.direction === direction && (s.position ?? "right") === position)

/**
 * The notes of a ligature with a side for each stem of which none was recorded, the one at which such a stem says something:
 * of the first note left when it goes up (opposite propriety) or the ligature falls (with propriety), else right. A level that
 * is stated beside a stem down decides: a breve's stands left.
 */
export function withSides(notes: readonly Note[]): readonly Note[] {
  const [first, second] = notes
  if (first === undefined || second === undefined || first.stems.every(s => s.position !== undefined)) return notes
  const ofBreve = first.level === undefined ? height(second) < height(first) : first.level === "brevis"
  const sideOf = ({ direction }: Note["stems"][number]): "left" | "right" =>
    direction === "up" || (direction === "down" && ofBreve) ? "left" : "right"
  const stems = first.stems.map(s => (s.position === undefined ? { ...s, position: sideOf(s) } : s))
  return [{ ...first, stems }, ...notes.slice(1)]
}

/** Where a file gives the body as a whole and says of no note that an oblique begins there, the last two share it. */
export function withBody({ form }: Ligature, notes: readonly Note[]): readonly Note[] {
  if (form !== "obliqua" || notes.some(n => n.oblique)) return notes
  return notes.map((n, i) => (i === notes.length - 2 ? { ...n, oblique: true } : n))
}
const isWide = (note: Note): boolean => note.wide === true

/** Whether anything of the form was recorded beyond the levels themselves. */
export function isDrawn(ligature: Ligature, notes: readonly Note[]): boolean {
  return (
    ligature.form !== undefined ||
    ligature.propriety !== undefined ||
    ligature.perfection !== undefined ||
    notes.some(
      n =>
        n.oblique !== undefined ||
        n.head !== undefined ||
        n.wide !== undefined ||
        n.stems.some(s => s.position === "left" || s.position === "right"),
    )
  )
}

/** Levels (0 maxima … 3 semibrevis) of the notes in order. */
export function ligatureLevels(
  ligature: Ligature,
  written: readonly Note[],
  system: "acm-1280" | "mensural",
  settings: Settings,
): number[] {
  if (written.length < 2) return written.map(() => BREVIS)
  const notes = withBody(ligature, withSides(written))
  const words = ligature.propriety !== undefined || ligature.perfection !== undefined
  if (words && !notes.some(n => n.stems.length > 0 || n.oblique || n.head))
    return levelsFromWords(ligature, notes.length)
  return system === "acm-1280" ? levelsOf1280(notes, settings) : levelsOf1496(notes, settings)
}

/** Ars cantus mensurabilis, c. 1280, VII: with propriety the first is a breve, with perfection the last is a long. */
function levelsFromWords(ligature: Ligature, count: number): number[] {
  const levels = new Array<number>(count).fill(BREVIS)
  if (ligature.propriety === "sine") levels[0] = LONGA
  if (ligature.propriety === "opposita") levels[0] = levels[1] = SEMIBREVIS
  if ((count > 2 || ligature.propriety !== "opposita") && (ligature.perfection ?? "cum") === "cum")
    levels[count - 1] = LONGA
  return levels
}

function levelsOf1280(notes: readonly Note[], settings: Settings): number[] {
  const levels: number[] = notes.map(n => (isWide(n) ? MAXIMA : BREVIS))
  const [first, second] = [notes[0]!, notes[1]!]
  const opposite = stem(first, "left", "up")
  const rises = height(second) > height(first)
  if (opposite) levels[0] = levels[1] = SEMIBREVIS
  else if (!isWide(first)) levels[0] = firstOf1280(first, rises, notes.length, settings)
  if (notes.length > 2 || !opposite) {
    const last = notes.length - 1
    if (!isWide(notes[last]!)) levels[last] = lastOf1280(notes[last - 1]!, notes[last]!)
  }
  return levels
}

function firstOf1280(first: Note, rises: boolean, count: number, settings: Settings): number {
  const stemmed = stem(first, "left", "down") || stem(first, "right", "down")
  const likeFalling = first.oblique === true && count === 2 && settings["bareRisingOblique"] === "as-descending"
  if (rises && !likeFalling) return stemmed ? LONGA : BREVIS
  return stem(first, "left", "down") ? BREVIS : LONGA
}

function lastOf1280(before: Note, last: Note): number {
  if (before.oblique === true) return BREVIS
  if (height(last) < height(before)) return LONGA
  if (last.head === "over") return LONGA
  return last.plica !== undefined || stem(last, "right", "down") ? LONGA : BREVIS
}

function levelsOf1496(notes: readonly Note[], settings: Settings): number[] {
  const count = notes.length
  const levels = notes.map((n, i) => middleOf1496(n, i > 0 && i < count - 1, settings))
  const first = notes[0]!
  const opposite = stem(first, "left", "up")
  if (opposite) levels[0] = levels[1] = SEMIBREVIS
  else levels[0] = firstOf1496(first, height(notes[1]!) > height(first), settings)
  if (count > 2 || !opposite) levels[count - 1] = lastOf1496(notes[count - 2]!, notes[count - 1]!, settings)
  return levels
}

function middleOf1496(note: Note, middle: boolean, settings: Settings): number {
  if (!middle) return BREVIS
  if (isWide(note) && settings["maximaInMiddle"] !== "false") return MAXIMA
  const stemmed = stem(note, "right", "down") || stem(note, "right", "up")
  return stemmed && !isWide(note) && settings["longaInMiddle"] === "true" ? LONGA : BREVIS
}

function firstOf1496(first: Note, rises: boolean, settings: Settings): number {
  const left = stem(first, "left", "down")
  const right = stem(first, "right", "down")
  if (isWide(first)) return rises && !right && settings["widthNeedsStem"] === "true" ? BREVIS : MAXIMA
  if (!rises) return left ? BREVIS : LONGA
  if (first.oblique === true && !left) return settings["obliqueAscendingInitial"] === "longa" ? LONGA : BREVIS
  return right && !left ? LONGA : BREVIS
}

function lastOf1496(before: Note, last: Note, settings: Settings): number {
  const rises = height(last) > height(before)
  const stemmed = stem(last, "right", "down") || stem(last, "right", "up")
  if (isWide(last))
    return rises && !stemmed && last.head !== "over" && settings["widthNeedsStem"] === "true" ? BREVIS : MAXIMA
  if (before.oblique === true) return BREVIS
  if (!rises) return LONGA
  return stemmed || last.head === "over" ? LONGA : BREVIS
}
