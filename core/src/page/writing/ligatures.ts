/** Notes bound to one drawn shape, and a ligature taken apart. */
import type { SignId } from "../../base/index.js"
import { idGiver, type PageChange } from "../change.js"
import type { Level } from "../level.js"
import type { Page } from "../page.js"
import type { Ligature, Note, Stem } from "../signs.js"
import type { Gesture } from "./gestures.js"

/**
 * How a ligature is drawn: its bodies square; the first two, or the last two, as one oblique body; and a stem at the left of the
 * first head, or none. Which values that gives is for the reading to say.
 */
export interface LigatureShape {
  readonly oblique?: "first" | "last"
  readonly stem?: "down" | "up"
}
/** The shapes that two or more notes can be bound in, plainest first. */
export const LIGATURE_SHAPES: readonly LigatureShape[] = [
  {},
  { stem: "down" },
  { stem: "up" },
  { oblique: "first" },
  { oblique: "first", stem: "down" },
  { oblique: "first", stem: "up" },
  { oblique: "last" },
  { oblique: "last", stem: "down" },
  { oblique: "last", stem: "up" },
]

/** Binds notes that stand next to one another in a voice; their levels are left to the shape. */
export function bind(page: Page, ids: readonly SignId[], shape: LigatureShape = {}): Gesture | undefined {
  const chosen = new Set(ids)
  for (const voice of page.voices) {
    const first = voice.signs.findIndex(sign => chosen.has(sign.id))
    if (first < 0) continue
    const run = voice.signs.slice(first)
    const end = run.findIndex(sign => !chosen.has(sign.id))
    const members = end < 0 ? run : run.slice(0, end)
    if (!members.every(one => one.kind === "note" || one.kind === "dot") || notesAmong(members) < 2) return undefined
    const next = voice.signs[first + members.length]
    const ligature: Ligature = {
      kind: "ligature",
      id: idGiver(page)(),
      members: shaped(members as Ligature["members"], shape),
    }
    const changes: PageChange[] = [
      ...members.map((sign): PageChange => ({ kind: "delete-sign", sign: sign.id })),
      { kind: "insert-sign", voice: voice.id, ...(next && { before: next.id }), sign: ligature },
    ]
    return { change: { kind: "several", changes }, select: ids.at(-1)! }
  }
  return undefined
}
const notesAmong = (signs: readonly { readonly kind: string }[]): number =>
  signs.filter(one => one.kind === "note").length

/** The ligature in another shape. */
export function reshape(page: Page, ligature: SignId, shape: LigatureShape): Gesture | undefined {
  const found = ligatureOf(page, ligature)
  if (!found) return undefined
  const { form: _, propriety: __, perfection: ___, ...plain } = found.ligature
  const sign = { ...plain, members: shaped(plain.members, shape) }
  return { change: { kind: "replace-sign", sign }, select: plain.members[0]!.id }
}

function shaped(members: Ligature["members"], { oblique, stem }: LigatureShape): Ligature["members"] {
  const notes = members.filter((one): one is Note => one.kind === "note")
  const slanting = oblique === undefined ? undefined : notes[oblique === "first" ? 0 : notes.length - 2]
  return members.map(member => {
    if (member.kind !== "note") return member
    const { level: _, oblique: __, given: ___, ...plain } = member
    const stems: readonly Stem[] = member === notes[0] && stem ? [{ direction: stem, position: "left" }] : []
    return { ...plain, stems, ...(member === slanting && { oblique: true }) }
  })
}

/** Takes the ligature apart. `levelOf` says what a note of it was read as, for notes whose level only the shape said. */
export function unbind(page: Page, sign: SignId, levelOf: (note: SignId) => Level | undefined): Gesture | undefined {
  const found = ligatureOf(page, sign)
  if (!found) return undefined
  const { ligature, voice, next } = found
  const loose = ligature.members.map(member => {
    if (member.kind !== "note") return member
    const { oblique: _, head: __, ...plain } = member
    return { ...plain, stems: [], level: member.level ?? levelOf(member.id) ?? ("brevis" as const) }
  })
  const changes: PageChange[] = [
    { kind: "delete-sign", sign: ligature.id },
    ...loose.map((one): PageChange => ({
      kind: "insert-sign",
      voice,
      ...(next !== undefined && { before: next }),
      sign: one,
    })),
  ]
  return { change: { kind: "several", changes }, select: loose.at(-1)!.id }
}

/** The ligature of that id, or in which the sign of that id stands. */
function ligatureOf(page: Page, id: SignId) {
  for (const voice of page.voices) {
    const at = voice.signs.findIndex(
      sign => sign.kind === "ligature" && (sign.id === id || sign.members.some(member => member.id === id)),
    )
    if (at >= 0) return { voice: voice.id, ligature: voice.signs[at] as Ligature, next: voice.signs[at + 1]?.id }
  }
  return undefined
}

/** The shape a ligature is drawn in, as far as it is one of these. */
export function shapeOf({ members }: Ligature): LigatureShape {
  const notes = members.filter((one): one is Note => one.kind === "note")
  const slanting = notes.findIndex(note => note.oblique)
  const stem = notes[0]?.stems[0]?.direction
  return {
    ...(slanting < 0 ? {} : { oblique: slanting === 0 ? "first" : "last" }),
    ...(stem === "up" || stem === "down" ? { stem } : {}),
  }
}
