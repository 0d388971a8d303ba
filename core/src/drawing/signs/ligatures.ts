/**
 * Ligatures as joined bodies. Each note keeps its own outline, so that it can be found and coloured; neighbours overlap by the
 * width of a stem, so that no seam shows.
 */
import type { Dot, Ligature, Note, Other, Rest } from "../../page/index.js"
import type { Box, Item, Mark, Path } from "../scene/scene.js"
import { editorialWithin, isByEditor } from "./editorial.js"
import { drawn, inked, markBox, yOf, type SignStyle } from "./drawn.js"
import { LOZENGE_HEIGHT, ROOF, WALL, lozengeHead, squareHead, type Ink } from "./heads.js"
import { formed } from "./ligature-form.js"
import { placeNotes, positionIn, type Placed } from "./ligature-places.js"
import { accidentalBefore, fermataOver, noteInk } from "./notes.js"
import { around, polygonOutline, rectOutline, reversed } from "./outline.js"
import { drawOther } from "./others.js"
import { drawDot, drawRest } from "./rests.js"
import { plicaPaths, stemPath, type Bearer } from "./stems.js"

/** One member of a ligature: its marks and its body. */
export interface DrawnMember {
  readonly sign: Note | Dot | Rest | Other
  readonly content: readonly Mark[]
  readonly body: Box
}
export interface DrawnLigature {
  readonly members: readonly DrawnMember[]
  readonly box: Box
  readonly body: Box
}

/** Width of the line that joins two heads. */
const JOINT = 0.13

export function drawLigature(ligature: Ligature, positionOf: (note: Note) => number, style: SignStyle): DrawnLigature {
  const look = lookOf(ligature, positionOf, style)
  const known = look === undefined ? undefined : drawnBefore.get(look)
  if (known) return withHands(withSigns(known, ligature))
  const drawing = drawAnew(ligature, positionOf, style)
  if (look !== undefined) {
    if (drawnBefore.size >= MOST_KEPT) drawnBefore.clear()
    drawnBefore.set(look, drawing)
  }
  return withHands(drawing)
}

/** Members that an editor supplied or corrected by themselves. */
function withHands(drawing: DrawnLigature): DrawnLigature {
  if (!drawing.members.some(({ sign }) => isByEditor(sign))) return drawing
  const members = drawing.members.map(member =>
    isByEditor(member.sign) ? { ...member, content: editorialWithin(member.content, member.body) } : member,
  )
  return { ...drawing, members, box: members.flatMap(({ content }) => content.map(markBox)).reduce(around) }
}

/** Ligatures that look alike have one drawing between them. */
const drawnBefore = new Map<string, DrawnLigature>()
const MOST_KEPT = 2000

const withSigns = (drawing: DrawnLigature, { members }: Ligature): DrawnLigature => ({
  ...drawing,
  members: drawing.members.map((member, i) => ({ ...member, sign: members[i]! })),
})

/** All that its looks depend on; undefined where more than bare notes stands in it. */
function lookOf(ligature: Ligature, positionOf: (note: Note) => number, { white }: SignStyle): string | undefined {
  let look = `${white} ${ligature.form} ${ligature.propriety} ${ligature.perfection} ${ligature.conjunctura}`
  for (const note of ligature.members) {
    if (note.kind !== "note" || note.accidental !== undefined || note.fermata || note.plica || note.duplex)
      return undefined
    if (note.shape !== undefined) return undefined
    const stems = note.stems.length === 0 ? "" : JSON.stringify(note.stems)
    look += `;${positionOf(note)} ${positionIn(note)} ${note.level} ${note.coloration} ${note.oblique} ${note.wide} ${note.head} ${stems}`
  }
  return look
}

function drawAnew(ligature: Ligature, positionOf: (note: Note) => number, style: SignStyle): DrawnLigature {
  const bare = ligature.members.filter(member => member.kind === "note")
  const notes = formed(ligature, bare, style.white)
  const { byNote, x } = accidentals(notes, positionOf)
  const members = memberMarks(ligature, placeNotes(ligature, notes, positionOf, x), style).map(member => {
    const own = byNote.get(member.sign.id) ?? []
    return own.length > 0 ? { ...member, content: [...member.content, ...own] } : member
  })
  const boxes = members.flatMap(member => member.content.map(markBox))
  const bodies = members.map(member => member.body)
  if (boxes.length === 0) return { members, ...drawn([]) }
  return { members, box: boxes.reduce(around), body: bodies.reduce(around) }
}

/** Accidentals of ligated notes stand before the whole body, each at the height of its note. */
function accidentals(notes: readonly Note[], positionOf: (note: Note) => number) {
  const byNote = new Map<string, readonly Mark[]>()
  let x = 0
  for (const note of notes) {
    const before = accidentalBefore(note.accidental, yOf(positionOf(note)), note.accidentalByEditor)
    if (before.marks.length === 0) continue
    const from = x
    byNote.set(
      note.id,
      before.marks.map(mark => shifted(mark, from)),
    )
    x += before.x
  }
  return { byNote, x }
}

function memberMarks(ligature: Ligature, places: readonly Placed[], style: SignStyle): DrawnMember[] {
  const members: DrawnMember[] = []
  let at = -1
  for (const member of ligature.members) {
    if (member.kind === "note") {
      at++
      members.push(drawMember(places, at, member, style))
    } else members.push(besides(member, places, at, style))
  }
  return members
}

function drawMember(places: readonly Placed[], at: number, sign: Note, style: SignStyle): DrawnMember {
  const place = places[at]!
  const { note, left, right, shape } = place
  const y = yOf(place.position)
  const ink = noteInk({ ...note, level: undefined }, style)
  const half = shape === "lozenge" ? LOZENGE_HEIGHT / 2 : place.half + 0.1
  const body: Box = { left, right, top: y - half, bottom: y + half }
  const head: Bearer = { body, y, lozenge: shape === "lozenge", hollow: ink.filling.kind !== "full" }
  const last = at === places.length - 1
  const path = [
    ...bodyPath(places, at, ink),
    ...joint(places, at),
    ...note.stems.flatMap(stem => stemPath(stem, head, shape !== "lozenge")),
    ...(note.plica ? plicaPaths(note.plica, "brevis", head, last && places.length > 1) : []),
  ]
  return { sign, content: [inked("head", path, ink.role), ...fermataOver(note, body, style)], body }
}

function bodyPath(places: readonly Placed[], at: number, ink: Ink): Path {
  const { left, right, position, shape, half } = places[at]!
  const y = yOf(position)
  if (shape === "square") return squareHead(left, y, right - left, ink.filling, half)
  if (shape === "lozenge") return lozengeHead(left, y, ink.filling)
  const begins = shape === "oblique-begin"
  const other = places[begins ? at + 1 : at - 1]!
  return obliqueHalf({ left, right, y, middle: (y + yOf(other.position)) / 2, begins, ink })
}

interface ObliqueHalf {
  readonly left: number
  readonly right: number
  readonly y: number
  /** Height of the body's middle, where its halves meet. */
  readonly middle: number
  readonly begins: boolean
  readonly ink: Ink
}

/** Half of an oblique: it reaches a little into the other half, along the same edges. */
function obliqueHalf({ left, right, y, middle, begins, ink }: ObliqueHalf): Path {
  const slope = begins ? (middle - y) / (right - left) : (y - middle) / (right - left)
  const outer = begins ? left : right
  const inner = begins ? right + SEAM : left - SEAM
  const thick = OBLIQUE_HALF * Math.sqrt(1 + slope * slope * 0.35)
  const at = (x: number) => y + slope * (x - outer)
  const band = (from: number, to: number, over: number, under: number): Path => {
    const [l, r] = [Math.min(from, to), Math.max(from, to)]
    return polygonOutline([
      [l, at(l) - over],
      [r, at(r) - over],
      [r, at(r) + under],
      [l, at(l) + under],
    ])
  }
  const outline = [...band(outer, inner, thick, thick), ...corners(outer, at(outer), thick, begins)]
  const inward = begins ? 1 : -1
  const cut = (wall: number, roof: number) => reversed(band(outer + inward * wall, inner, thick - roof, thick - roof))
  switch (ink.filling.kind) {
    case "full":
      return outline
    case "void":
      return [...outline, ...cut(WALL, ROOF)]
    case "slit":
      return [...outline, ...cut(0.13, 0.13), ...band(outer + inward * 0.23, inner, thick - 0.23, thick - 0.23)]
    case "half": {
      const upper = ink.filling.void === "top"
      const roof = thick - ROOF
      if (ink.filling.void === "left" || ink.filling.void === "right") return [...outline, ...cut(WALL, ROOF)]
      return [...outline, ...reversed(band(outer + inward * WALL, inner, upper ? roof : 0, upper ? 0 : roof))]
    }
  }
}
const OBLIQUE_HALF = 0.45
const SEAM = 0.05

/** The pen's start and end: the corners of an oblique are drawn out like those of a square. */
function corners(x: number, y: number, thick: number, begins: boolean): Path {
  const inward = begins ? 0.16 : -0.16
  const clockwise = (points: readonly (readonly [number, number])[]) =>
    begins ? polygonOutline(points) : reversed(polygonOutline(points))
  return [
    ...clockwise([
      [x, y - thick - 0.12],
      [x + inward, y - thick + 0.02],
      [x, y - thick + 0.1],
    ]),
    ...clockwise([
      [x, y + thick - 0.1],
      [x + inward, y + thick - 0.02],
      [x, y + thick + 0.12],
    ]),
  ]
}

/** The line that joins a head to the one before it, where their sides do not touch. */
function joint(places: readonly Placed[], at: number): Path {
  const [before, here] = [places[at - 1], places[at]!]
  // flat heads over one another all but touch
  if (
    !before ||
    here.apart ||
    here.half < 0.3 ||
    here.shape === "lozenge" ||
    before.shape === "lozenge" ||
    here.shape === "oblique-end"
  )
    return []
  const [from, to] = [yOf(before.position), yOf(here.position)]
  const right = before.right
  return rectOutline(right - JOINT, Math.min(from, to), right, Math.max(from, to))
}

/** What else stands within: a dot after the last note or over an earlier one, a rest or a foreign sign after its note. */
function besides(sign: Dot | Rest | Other, places: readonly Placed[], at: number, style: SignStyle): DrawnMember {
  const place = places[Math.max(0, at)]
  const position = place?.position ?? style.lines - 1
  const isLast = at === places.length - 1
  const x =
    place === undefined ? 0 : isLast || sign.kind === "rest" ? place.right + 0.25 : (place.left + place.right) / 2 - 0.2
  const piece =
    sign.kind === "other"
      ? drawOther(sign, style)
      : sign.kind === "dot"
        ? drawDot(sign, isLast ? position : position + 2 + (position % 2 === 0 ? 0 : 1))
        : drawRest(sign, style)
  const content = piece.content.map(mark => shifted(mark, x))
  return { sign, content, body: content.map(markBox).reduce(around) }
}

function shifted(mark: Mark, x: number): Mark {
  if (mark.shape !== "path") return mark
  const path = mark.path.map(step => step.map((value, i) => (i % 2 === 1 ? (value as number) + x : value)))
  return { ...mark, path: path as unknown as Path }
}

/** The marks of a ligature as one group, with a group for each member. */
export function ligatureItem(ligature: Ligature, { members }: DrawnLigature): Item {
  return {
    shape: "group",
    part: "ligature",
    sign: ligature.id,
    content: members.map(member => ({
      shape: "group",
      part: member.sign.kind,
      sign: member.sign.id,
      content: member.content,
    })),
  }
}
