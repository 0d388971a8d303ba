/**
 * The signs of a voice as forms in px, each from the left edge of its head: what they look like and how much room they take.
 * Signs that look alike have one form between them.
 */
import type { SignId } from "../../base/index.js"
import type { Dot, Note, Rest } from "../../page/index.js"
import type { Box, Group, Item } from "../scene/scene.js"
import {
  accidentalPath,
  accidentalWidth,
  around,
  drawDot,
  drawNote,
  drawSign,
  editorial,
  inked,
  markBox,
  type Drawn,
  type SignStyle,
} from "../signs/index.js"
import { besideForm } from "./beside.js"
import { echoForm, ligatureForm } from "./ligature-forms.js"
import type { Look } from "./options.js"
import type { Beside, TimedSign, TimeVoice } from "./timeline.js"

/** x is 0 at the left edge of the head, y 0 on the bottom line of the staff; in the compact form where the heads stand. */
export interface Form {
  readonly box: Box
  /** Of its pieces: what really must be kept clear of. */
  readonly pieces: readonly Box[]
  /** Of the head; of the first note's, in a ligature. */
  readonly body: Box
  /** In a ligature: of each note's own part of the body. */
  readonly parts?: ReadonlyMap<SignId, Box>
  /** A later note of a ligature: it was not written here. */
  readonly echo?: boolean
  readonly drawing: Alike | Single
}

/** The same for all signs that look so: a group in its own units. */
interface Alike {
  readonly kind: "alike"
  readonly group: Required<Pick<Group, "part" | "x" | "y" | "scale" | "content">> & { readonly shape: "group" }
}
/** Has ids of its own in it. */
interface Single {
  readonly kind: "single"
  readonly items: readonly Item[]
}

/** A form of the sign at its place. */
export function drawForm({ drawing }: Form, sign: SignId, x: number, y: number): Group {
  if (drawing.kind === "single") return { shape: "group", x, y, content: drawing.items }
  const { part, scale, content } = drawing.group
  return { shape: "group", part, sign, x: x + drawing.group.x, y: y + drawing.group.y, scale, content }
}

export const scaledBox = ({ left, right, top, bottom }: Box, by: number, x = 0, y = 0): Box => ({
  left: left * by + x,
  right: right * by + x,
  top: top * by + y,
  bottom: bottom * by + y,
})
export const movedBox = (box: Box, x: number, y: number): Box => scaledBox(box, 1, x, y)

/** Heads are larger than the staff's space: heights are told in head spaces. */
export const stretch = (look: Look): number => look.headSpace / look.staffSpace
export const styleFor = (style: SignStyle, look: Look): SignStyle => ({
  ...style,
  lines: look.compact ? 1 : (style.lines - 1) / stretch(look) + 1,
})
export const heightOf = (position: number, look: Look): number => (look.compact ? 0 : position / stretch(look))

/** Forms of one size of picture, by what they look like. */
export class FormBook {
  readonly look: Look
  readonly #known = new Map<string, Form>()
  readonly #single = new WeakMap<TimedSign, Form>()
  readonly #before = new WeakMap<readonly Beside[], { readonly timed: TimedSign; readonly form: Form }>()

  constructor(look: Look) {
    this.look = look
  }

  /** Of the note or rest of this number in a voice. Those of a ligature's later notes are echoes. */
  formOf(voice: TimeVoice, at: number): Form {
    const timed = voice.signs[at]!
    const { sign, ligature, inLigature } = timed
    if (ligature && inLigature === 0 && sign.kind === "note")
      return this.#own(timed, () => ligatureForm(voice, at, ligature, this.look))
    const plain = timed.after.length === 0 && sign.editorial === undefined
    if (ligature && sign.kind === "note")
      return this.#form(timed, plain, echoKey(timed), () => echoForm(timed, this.look))
    if (sign.kind === "rest")
      return this.#form(timed, plain, restKey(sign, voice.style), () => restForm(timed, sign, voice.style, this.look))
    return this.#form(timed, plain, noteKey(sign, timed.position, voice.style), () =>
      noteForm(timed, sign, voice.style, this.look),
    )
  }

  /** A note whose accidental stands over it, since there is no room before it; undefined where it has none. */
  raised(timed: TimedSign, style: SignStyle): Form | undefined {
    const { sign } = timed
    if (sign.kind !== "note" || timed.ligature || sign.accidental === undefined || sign.accidentalByEditor)
      return undefined
    const plain = timed.after.length === 0 && sign.editorial === undefined
    const make = () => raisedForm(timed, sign, style, this.look)
    return plain ? this.#alike(`raised ${noteKey(sign, timed.position, style)}`, make) : make()
  }

  /** What stands before a note or rest, on the left of its head. */
  beforeOf(timed: TimedSign, style: SignStyle): Form {
    const { before } = timed
    if (before.length === 0) return NO_FORM
    const known = this.#before.get(before)
    if (known?.timed === timed) return known.form
    const form = besideForm(before, timed, style, this.look)
    this.#before.set(before, { timed, form })
    return form
  }

  #form(timed: TimedSign, plain: boolean, key: string, make: () => Form): Form {
    return plain ? this.#alike(key, make) : this.#own(timed, make)
  }
  #alike(key: string, make: () => Form): Form {
    const known = this.#known.get(key) ?? make()
    this.#known.set(key, known)
    return known
  }
  #own(timed: TimedSign, make: () => Form): Form {
    const known = this.#single.get(timed) ?? make()
    this.#single.set(timed, known)
    return known
  }
}

const NO_BOX: Box = { left: 0, right: 0, top: 0, bottom: 0 }
export const NO_FORM: Form = { box: NO_BOX, pieces: [], body: NO_BOX, drawing: { kind: "single", items: [] } }

function noteKey(note: Note, position: number, { white, lines }: SignStyle): string {
  const { level, coloration, accidental, accidentalByEditor, stems, plica, shape, fermata, duplex, wide } = note
  const key = `${level} ${coloration} ${position} ${white} ${lines}`
  if (accidental === undefined && stems.length === 0 && !plica && !shape && !fermata && !duplex && !wide) return key
  return `${key} ${accidental} ${accidentalByEditor} ${shape} ${fermata} ${duplex} ${wide} ${JSON.stringify([stems, plica])}`
}
const restKey = ({ level, spaces, loc, coloration, fermata }: Rest, { lines }: SignStyle): string =>
  `rest ${level} ${spaces?.num}/${spaces?.den} ${loc} ${coloration} ${fermata} ${lines}`
const echoKey = ({ reading: { level }, position }: TimedSign): string => `echo ${level} ${position}`

function noteForm(timed: TimedSign, note: Note, style: SignStyle, look: Look): Form {
  const head = drawNote(note, heightOf(timed.position, look), styleFor(style, look))
  if (timed.after.length === 0 && note.editorial === undefined)
    return alike("note", head.content, [...head.content.map(markBox), head.body], head.body, look)
  const dots = dotsAfter(timed.after, timed.position, head, look)
  const { item, box } = editorial(
    note,
    { shape: "group", part: "note", sign: note.id, content: head.content },
    head.box,
  )
  const pieces = [...head.content.map(markBox), box === head.box ? head.body : box, ...dots.boxes]
  return single([item, ...dots.items], pieces, head.body, look)
}

function raisedForm(timed: TimedSign, note: Note, style: SignStyle, look: Look): Form {
  const { accidental, ...bare } = note
  const head = drawNote(bare, heightOf(timed.position, look), styleFor(style, look))
  const { left, right, top } = head.body
  const width = accidentalWidth(accidental!)
  const stemmed = head.box.top < top - 0.5
  const x = stemmed ? (left + right) / 2 - width - 0.2 : (left + right - width) / 2
  const mark = inked("accidental", accidentalPath(accidental!, x, top - 0.75))
  const content = [mark, ...head.content]
  if (timed.after.length === 0) return alike("note", content, content.map(markBox), head.body, look)
  const dots = dotsAfter(timed.after, timed.position, head, look)
  const item: Item = { shape: "group", part: "note", sign: note.id, content }
  return single([item, ...dots.items], [...content.map(markBox), ...dots.boxes], head.body, look)
}

/** Dots beside a head, in the space; in units of the head. */
export function dotsAfter(
  dots: readonly Dot[],
  position: number,
  head: Pick<Drawn, "body">,
  look: Look,
): { items: Item[]; boxes: Box[] } {
  let x = head.body.right + 0.28
  const inSpace = look.compact ? 0 : position % 2 === 0 ? position + 1 : position
  const drawn = dots.map(dot => {
    const { content, box } = drawDot({ ...dot, loc: look.compact ? 0 : (dot.loc ?? inSpace) / stretch(look) }, 0)
    const item: Item = { shape: "group", part: "dot", sign: dot.id, x, content }
    const own = movedBox(box, x, 0)
    x += box.right + 0.2
    return { item, own }
  })
  return { items: drawn.map(one => one.item), boxes: drawn.map(one => one.own) }
}

interface Placing {
  readonly x: number
  readonly y: number
  readonly space: number
}
/** In units of the head, to px, so that the head begins at 0; in the compact form nothing reaches into the band. */
function placing(pieces: readonly Box[], body: Box, look: Look): Placing & { readonly box: Box } {
  const box = pieces.reduce(around, body)
  const space = look.headSpace * (look.compact ? Math.min(1, 4.3 / (box.bottom - box.top)) : 1)
  const y = look.compact ? Math.min(0, look.headSpace * 0.8 - box.bottom * space) : 0
  return { x: -body.left * space, y, space, box }
}

function alike(part: string, content: readonly Item[], pieces: readonly Box[], body: Box, look: Look): Form {
  const { x, y, space, box } = placing(pieces, body, look)
  return {
    box: scaledBox(box, space, x, y),
    pieces: pieces.map(piece => scaledBox(piece, space, x, y)),
    body: scaledBox(body, space, x, y),
    drawing: { kind: "alike", group: { shape: "group", part, x, y, scale: space, content } },
  }
}

export function single(
  content: readonly Item[],
  pieces: readonly Box[],
  body: Box,
  look: Look,
  parts?: readonly (readonly [SignId, Box])[],
): Form {
  const { x, y, space, box } = placing(pieces, body, look)
  return {
    box: scaledBox(box, space, x, y),
    pieces: pieces.map(piece => scaledBox(piece, space, x, y)),
    body: scaledBox(body, space, x, y),
    ...(parts ? { parts: new Map(parts.map(([id, one]) => [id, scaledBox(one, space, x, y)])) } : {}),
    drawing: { kind: "single", items: [{ shape: "group", x, y, scale: space, content }] },
  }
}

function restForm(timed: TimedSign, rest: Rest, style: SignStyle, look: Look): Form {
  const { item, box } = drawSign(rest, { clef: timed.clef }, style)
  const scale = look.compact ? look.headSpace : look.staffSpace
  const y = look.compact ? -((box.top + box.bottom) / 2) * scale : 0
  const content = item.shape === "group" ? item.content : [item]
  return withDots(
    timed,
    { shape: "group", part: "rest", x: 0, y, scale, content },
    scaledBox(box, scale, 0, y),
    style.lines - 1,
    look,
  )
}

/** A form of one piece in px, with the dots behind it. */
export function withDots(timed: TimedSign, group: Alike["group"], box: Box, position: number, look: Look): Form {
  const outside = timed.after.filter(dot => !timed.ligature?.members.includes(dot))
  if (outside.length === 0 && timed.sign.editorial === undefined)
    return { box, pieces: [box], body: box, drawing: { kind: "alike", group } }
  const dots = dotsAfter(outside, position, { body: scaledBox(box, 1 / look.headSpace) }, look)
  const boxes = dots.boxes.map(one => scaledBox(one, look.headSpace))
  const behind: Item[] = dots.items.length > 0 ? [{ shape: "group", scale: look.headSpace, content: dots.items }] : []
  const own: Item = { ...group, sign: timed.sign.id }
  return {
    box: boxes.reduce(around, box),
    pieces: [box, ...boxes],
    body: box,
    drawing: { kind: "single", items: [own, ...behind] },
  }
}
