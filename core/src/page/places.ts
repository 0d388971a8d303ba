/** Where a sign stands, as a person would say it. A place is worked out when someone asks, never stored. */
import type { SignId } from "../base/index.js"
import type { Page, Voice } from "./page.js"
import type { Sign } from "./signs.js"
import { flatSigns, indexSigns } from "./walk.js"

/** Where a sign stands, counted from 1. */
export interface Place {
  /** "3v"; undefined before the first folio break that has a number. */
  readonly folio?: string
  /** "2", where the page is written in columns. */
  readonly column?: string
  /** Label of the voice. */
  readonly voice: string
  /** Staff (line of music) counted from 1 within the folio or column; the number of the line break where it has one. */
  readonly staff: number
  /** Number of the sign on its staff, from 1; breaks, comments and ligatures as such are not counted, their notes are. */
  readonly index: number
}

/** Where the sign with this id stands. A ligature stands where its first member does. Undefined: no such sign. */
export function locate(page: Page, id: SignId | string): Place | undefined {
  for (const voice of page.voices) for (const [sign, place] of placesIn(voice)) if (sign === id) return place
  return undefined
}

/** The place of every sign, for those who ask for many. */
export function locateAll(page: Page): Map<SignId, Place> {
  return new Map(page.voices.flatMap(voice => [...placesIn(voice)]))
}

function* placesIn(voice: Voice): Generator<[SignId, Place]> {
  let folio: string | undefined
  let column: string | undefined
  let staff = 1
  let index = 0
  // A line break right after a folio or column break opens the first staff, not the second.
  let fresh = true
  for (const { sign, ligature } of flatSigns(voice)) {
    const counted = sign.kind !== "break" && sign.kind !== "comment"
    if (counted) {
      index++
      if (sign.kind !== "clef" && sign.kind !== "signature" && sign.kind !== "mensuration") fresh = false
    } else if (sign.kind === "break") {
      if (sign.of === "folio") [folio, column] = [sign.n ?? folio, undefined]
      if (sign.of === "column") column = sign.n
      if (sign.of !== "line") [staff, fresh] = [1, true]
      else [staff, fresh] = [staffNumber(sign.n, fresh ? 1 : staff + 1), false]
      index = 0
    }
    const place = {
      ...(folio && { folio }),
      ...(column && { column }),
      voice: nameOf(voice),
      staff,
      index: Math.max(index, 1),
    }
    if (ligature?.members[0] === sign) yield [ligature.id, place]
    yield [sign.id, place]
  }
}

function staffNumber(written: string | undefined, counted: number): number {
  return written !== undefined && /^[1-9]\d{0,3}$/.test(written) ? Number(written) : counted
}

function nameOf(voice: Voice): string {
  return voice.label || voice.n
}

/** "f. 3v, triplum, staff 2, sign 7". */
export function showPlace(place: Place): string {
  const folio = place.folio === undefined ? [] : [`f. ${place.folio}`]
  const column = place.column === undefined ? [] : [`column ${place.column}`]
  return [...folio, ...column, place.voice, `staff ${place.staff}`, `sign ${place.index}`].join(", ")
}

/**
 * The sign a person means by an id or by "triplum 12": the voice's label in any case, or its number, then the number
 * of the note or rest in that voice, from 1, the notes of a ligature counted singly. An id is tried first. Undefined:
 * nothing fits.
 */
export function findSign(page: Page, query: string): Sign | undefined {
  const wanted = query.trim()
  const byId = indexSigns(page).get(wanted as SignId)
  if (byId) return byId.sign
  const found = /^(.+?)[\s,]+(\d{1,9})$/.exec(wanted)
  if (!found) return undefined
  const voice = findVoice(page, found[1]!)
  return voice && figurae(voice)[Number(found[2]) - 1]
}

/** The voice with this label (in any case) or this number. */
export function findVoice(page: Page, name: string): Voice | undefined {
  const wanted = name.trim().toLowerCase()
  return (
    page.voices.find(voice => voice.label.toLowerCase() === wanted) ??
    page.voices.find(voice => voice.n === name.trim())
  )
}

/** "triplum 12" for a note or rest, as `findSign` reads it; undefined for other signs. */
export function shortPlace(page: Page, id: SignId | string): string | undefined {
  for (const voice of page.voices) {
    const at = figurae(voice).findIndex(sign => sign.id === id)
    if (at >= 0) return `${nameOf(voice)} ${at + 1}`
  }
  return undefined
}

function figurae(voice: Voice): Sign[] {
  return flatSigns(voice).flatMap(({ sign }) => (sign.kind === "note" || sign.kind === "rest" ? [sign] : []))
}
