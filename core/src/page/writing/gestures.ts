/**
 * What is done on the drawn page with a key or two, as changes: each is one step that can be taken back. `select` is the sign
 * at which one stands afterwards. Undefined where there is nothing to do it to.
 */
import type { SignId } from "../../base/index.js"
import { idGiver, type PageChange } from "../change.js"
import type { Level } from "../level.js"
import type { Page } from "../page.js"
import type { Coloration, Note, Pitch, Rest, Sign, Stem, Step } from "../signs.js"
import { flatSigns } from "../walk.js"
import { around, inserting, moved, nearest, openLigature, pitchOn, type Around, type Spot } from "./place.js"

export interface Gesture {
  readonly change: PageChange
  readonly select?: SignId
}
/** A sign without an id. */
export type NewSign = Sign extends infer S ? (S extends Sign ? Omit<S, "id"> : never) : never

/** Writes a sign behind the spot; over the note or rest that stands there with `over`. */
export function writeSign(page: Page, spot: Spot, sign: NewSign, over = false): Gesture | undefined {
  const here = around(page, spot)
  if (!here) return undefined
  const next = here.flat[here.at + 1]
  if (over && next && isTimed(next.sign) && (sign.kind === "note" || sign.kind === "rest")) {
    const id = next.sign.id
    return { change: { kind: "replace-sign", sign: { ...sign, id } as Sign }, select: id }
  }
  const id = idGiver(page)()
  return { change: inserting(here, { ...sign, id } as Sign), select: id }
}

/**
 * Writes a note of that name, in the octave nearest to the note before, or so many steps above the bottom line. In a ligature its
 * drawn shape says the level.
 */
export function writeNote(
  page: Page,
  spot: Spot,
  where: Step | number,
  level: Level,
  over = false,
): Gesture | undefined {
  const here = around(page, spot)
  if (!here) return undefined
  const pitch = typeof where === "number" ? pitchOn(here, where) : nearest(where, here)
  return writeSign(page, spot, noteAt(here, pitch, level), over)
}

/** A plain note to be written there; in a ligature that goes by its shape it has no level of its own. */
export function noteAt(here: Around, pitch: Pitch, level: Level): Omit<Note, "id"> {
  const shaped = openLigature(here)?.members.some(one => one.kind === "note" && one.level === undefined) ?? false
  return { kind: "note", ...(shaped ? {} : { level }), pitch, coloration: "none", stems: [], syllables: [] }
}

export const writeRest = (page: Page, spot: Spot, level: Level, over = false): Gesture | undefined =>
  writeSign(page, spot, { kind: "rest", level, coloration: "none" }, over)

/** A dot behind the sign; one that stands there already goes. */
export function turnDot(page: Page, sign: SignId): Gesture | undefined {
  const voice = page.voices.find(one => flatSigns(one).some(flat => flat.sign.id === sign))
  if (!voice) return undefined
  const flat = flatSigns(voice)
  const next = flat[flat.findIndex(one => one.sign.id === sign) + 1]
  if (next?.sign.kind === "dot") return { change: { kind: "delete-sign", sign: next.sign.id }, select: sign }
  const written = writeSign(page, { voice: voice.id, after: sign }, { kind: "dot" })
  return written && { ...written, select: sign }
}

/** The signs with whatever `alter` makes of them; those of which it makes nothing stay. */
function altering(page: Page, ids: readonly SignId[], alter: (sign: Sign) => Sign | undefined): Gesture | undefined {
  const wanted = new Set(ids)
  const changes = page.voices.flatMap(voice =>
    flatSigns(voice).flatMap(({ sign }): PageChange[] => {
      const other = wanted.has(sign.id) ? alter(sign) : undefined
      return other === undefined ? [] : [{ kind: "replace-sign", sign: other }]
    }),
  )
  const select = ids.at(-1)
  return changes.length === 0
    ? undefined
    : { change: changes.length === 1 ? changes[0]! : { kind: "several", changes }, ...(select && { select }) }
}
const notes =
  (alter: (note: Note) => Note) =>
  (sign: Sign): Sign | undefined =>
    sign.kind === "note" ? alter(sign) : undefined
const isTimed = (sign: Sign): sign is Note | Rest => sign.kind === "note" || sign.kind === "rest"

export const setLevel = (page: Page, ids: readonly SignId[], level: Level): Gesture | undefined =>
  altering(page, ids, sign => {
    if (!isTimed(sign)) return undefined
    if (sign.kind === "note") return { ...sign, level }
    const { spaces: _, ...plain } = sign
    return { ...plain, level }
  })

/** Notes, custodes and accidentals go up by so many steps. */
export const movePitch = (page: Page, ids: readonly SignId[], by: number): Gesture | undefined =>
  altering(page, ids, sign =>
    (sign.kind === "note" || sign.kind === "custos" || sign.kind === "accidental") && sign.pitch
      ? { ...sign, pitch: moved(sign.pitch, by) }
      : sign.kind === "clef"
        ? { ...sign, line: Math.min(6, Math.max(1, sign.line + Math.sign(by))) }
        : undefined,
  )

/** The one after `now` in a round of choices. */
const after = <T>(round: readonly T[], now: T): T => round[(round.indexOf(now) + 1) % round.length]!

const ACCIDENTALS = [undefined, "f", "s", "n"] as const
export const turnAccidental = (page: Page, ids: readonly SignId[]): Gesture | undefined =>
  altering(
    page,
    ids,
    notes(({ accidental, accidentalByEditor: _, ...note }) => {
      const next = after<string | undefined>(ACCIDENTALS, accidental)
      return next === undefined ? note : { ...note, accidental: next }
    }),
  )

const STEMS: readonly (readonly Stem[])[] = [
  [],
  [{ direction: "down" }],
  [{ direction: "up" }],
  [{ direction: "down", position: "left" }],
  [{ direction: "up", position: "left" }],
]
const sameStems = (a: readonly Stem[], b: readonly Stem[]): boolean =>
  a.length === b.length && a.every((stem, i) => stem.direction === b[i]!.direction && stem.position === b[i]!.position)
/** No stem of its own, down, up, down at the left, up at the left, and round. */
export const turnStem = (page: Page, ids: readonly SignId[]): Gesture | undefined =>
  altering(
    page,
    ids,
    notes(note => ({
      ...note,
      stems: STEMS[(STEMS.findIndex(one => sameStems(one, note.stems)) + 1) % STEMS.length]!,
    })),
  )

const PLICAS = [undefined, "up", "down"] as const
export const turnPlica = (page: Page, ids: readonly SignId[]): Gesture | undefined =>
  altering(
    page,
    ids,
    notes(({ plica, ...note }) => {
      const direction = after<"up" | "down" | undefined>(PLICAS, plica?.direction)
      return direction === undefined ? note : { ...note, plica: { direction } }
    }),
  )

/** The colours that a notation has beside its own ink. */
const COLOURS = {
  black: ["none", "red", "void", "half-right"],
  white: ["none", "black", "red", "half-right"],
  unknown: ["none", "red", "black", "void"],
} as const satisfies Record<string, readonly Coloration[]>
/** All of them the colour that comes after that of the first. */
export function turnColour(page: Page, ids: readonly SignId[]): Gesture | undefined {
  const voice = page.voices.find(one => flatSigns(one).some(({ sign }) => sign.id === ids[0]))
  const first = voice && flatSigns(voice).find(({ sign }) => sign.id === ids[0])?.sign
  if (!voice || !first || !isTimed(first)) return undefined
  const coloration = after<Coloration>(COLOURS[voice.notation], first.coloration)
  return altering(page, ids, sign => (isTimed(sign) ? { ...sign, coloration } : undefined))
}

/** Takes signs away; a ligature goes with its last note. The sign after them is selected, or the one before. */
export function takeAway(page: Page, ids: readonly SignId[]): Gesture | undefined {
  const gone = new Set(ids)
  const changes = page.voices.flatMap(({ signs }) =>
    signs.flatMap((sign): PageChange[] => {
      if (gone.has(sign.id)) return [{ kind: "delete-sign", sign: sign.id }]
      if (sign.kind !== "ligature") return []
      const members = sign.members.filter(member => gone.has(member.id))
      if (members.length === sign.members.length) return [{ kind: "delete-sign", sign: sign.id }]
      return members.map(({ id }) => ({ kind: "delete-sign", sign: id }))
    }),
  )
  if (changes.length === 0) return undefined
  const voice = page.voices.find(one => flatSigns(one).some(({ sign }) => gone.has(sign.id)))
  const left = voice ? flatSigns(voice).map(({ sign }) => sign) : []
  const last = left.findLastIndex(({ id }) => gone.has(id))
  const next = left.slice(last + 1)[0] ?? left.slice(0, last).findLast(({ id }) => !gone.has(id))
  return { change: { kind: "several", changes }, ...(next && { select: next.id }) }
}

/** Copies of signs, in their order, are written behind the spot; in another voice too. */
export function paste(page: Page, spot: Spot, signs: readonly Sign[]): Gesture | undefined {
  const here = around(page, spot)
  if (!here || signs.length === 0) return undefined
  const give = idGiver(page)
  const next = here.flat[here.at + 1]
  // what is pasted stands between signs of the voice, never within a ligature: behind the whole of it
  const rest = here.flat
    .slice(here.at + 1)
    .find(one => one.ligature === undefined || one.ligature !== here.flat[here.at]?.ligature)
  const before = (openLigature(here) ? rest : next)?.ligature?.id ?? (openLigature(here) ? rest : next)?.sign.id
  const copies = signs.map(sign => copied(sign, give))
  const changes = copies.map((sign): PageChange => ({
    kind: "insert-sign",
    voice: spot.voice,
    ...(before !== undefined && { before }),
    sign,
  }))
  const last = copies.at(-1)!
  return { change: { kind: "several", changes }, select: last.kind === "ligature" ? last.members.at(-1)!.id : last.id }
}

function copied(sign: Sign, give: () => SignId): Sign {
  const { zone: _, extra: __, ...plain } = sign
  const copy = { ...plain, id: give() } as Sign
  return copy.kind === "ligature"
    ? { ...copy, members: copy.members.map(member => copied(member, give) as typeof member) }
    : copy
}

/** The whole signs of a voice among those chosen: a ligature of which a note is chosen is taken as a whole. */
export function wholeSigns(page: Page, ids: readonly SignId[]): Sign[] {
  const chosen = new Set(ids)
  return page.voices.flatMap(({ signs }) =>
    signs.filter(
      sign => chosen.has(sign.id) || (sign.kind === "ligature" && sign.members.some(member => chosen.has(member.id))),
    ),
  )
}
