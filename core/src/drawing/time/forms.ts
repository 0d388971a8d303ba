/** The signs of a voice as forms in px, each from the left edge of its head: what they look like and how much room they take. */
import type { SignId } from "../../base/index.js"
import type { Dot, Ligature, Note } from "../../page/index.js"
import type { Box, Item, Mark, Path } from "../scene/scene.js"
import { LOZENGE_WIDTH, lozengeHead, squareHead } from "../signs/heads.js"
import {
  accidentalPath,
  accidentalWidth,
  around,
  drawDot,
  drawLigature,
  drawNote,
  drawSign,
  editorial,
  inked,
  ligatureItem,
  markBox,
  moved,
  yOf,
} from "../signs/index.js"
import type { Drawn, SignStyle } from "../signs/index.js"
import { isLozenge } from "../signs/stems.js"
import type { Look } from "./options.js"
import type { Beside, TimedSign, TimeVoice } from "./timeline.js"

/** x is 0 at the left edge of the head, y 0 on the bottom line of the staff; in the compact form where the heads stand. */
export interface Form {
  readonly items: readonly Item[]
  readonly box: Box
  /** Of its pieces: what really must be kept clear of. */
  readonly pieces: readonly Box[]
  /** Of the head, or of each note's own part of a ligature. */
  readonly bodies: ReadonlyMap<SignId, Box>
  /** The first note's: the point that the thread of a ligature's echo is tied to. */
  readonly echo?: boolean
}

export const scaledBox = ({ left, right, top, bottom }: Box, by: number, x = 0, y = 0): Box => ({
  left: left * by + x,
  right: right * by + x,
  top: top * by + y,
  bottom: bottom * by + y,
})
export const movedBox = (box: Box, x: number, y: number): Box => scaledBox(box, 1, x, y)

/** Forms of notes and rests in a voice, in their order. Those of a ligature's later notes are echoes. */
export function formsOf(voice: TimeVoice, look: Look): Form[] {
  return voice.signs.map(timed => {
    if (timed.ligature && timed.inLigature! > 0)
      return timed.sign.kind === "note" ? echoForm(timed, look) : restForm(timed, voice.style, look)
    if (timed.ligature) return ligatureForm(timed, timed.ligature, voice, look)
    return timed.sign.kind === "note"
      ? noteForm(timed, timed.sign, voice.style, look)
      : restForm(timed, voice.style, look)
  })
}

/** Heads are larger than the staff's space: heights are told in head spaces. */
const stretch = (look: Look): number => look.headSpace / look.staffSpace
const styleFor = (style: SignStyle, look: Look): SignStyle => ({
  ...style,
  lines: look.compact ? 1 : (style.lines - 1) / stretch(look) + 1,
})
const heightOf = (position: number, look: Look): number => (look.compact ? 0 : position / stretch(look))

function noteForm(timed: TimedSign, note: Note, style: SignStyle, look: Look): Form {
  const position = heightOf(timed.position, look)
  const own = styleFor(style, look)
  const head = drawNote(note, position, own)
  const dots = dotsAfter(timed.after, timed.position, head, look)
  const { item, box } = editorial(
    note,
    { shape: "group", part: "note", sign: note.id, content: head.content },
    head.box,
  )
  const pieces = [...head.content.map(markBox), box === head.box ? head.body : box, ...dots.boxes]
  return formOf([item, ...dots.items], pieces, head.body, [[note.id, head.body]], look)
}

/** A note whose accidental stands over it, at the left of its stem, since there is no room before it; undefined where it has none. */
export function raisedForm(timed: TimedSign, style: SignStyle, look: Look): Form | undefined {
  const { sign } = timed
  if (sign.kind !== "note" || timed.ligature || sign.accidental === undefined || sign.accidentalByEditor)
    return undefined
  const { accidental, ...bare } = sign
  const head = drawNote(bare, heightOf(timed.position, look), styleFor(style, look))
  const { left, right, top } = head.body
  const width = accidentalWidth(accidental)
  const stemmed = head.box.top < top - 0.5
  const x = stemmed ? (left + right) / 2 - width - 0.2 : (left + right - width) / 2
  const mark = inked("accidental", accidentalPath(accidental, x, top - 0.75))
  const dots = dotsAfter(timed.after, timed.position, head, look)
  const item: Item = { shape: "group", part: "note", sign: sign.id, content: [mark, ...head.content] }
  const pieces = [...head.content.map(markBox), markBox(mark), ...dots.boxes]
  return formOf([item, ...dots.items], pieces, head.body, [[sign.id, head.body]], look)
}

/** Dots beside a head, in the space; in units of the head. */
function dotsAfter(
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

/** In units of the head: as a form in px whose head begins at 0. */
function formOf(
  content: readonly Item[],
  pieces: readonly Box[],
  body: Box,
  bodies: readonly (readonly [SignId, Box])[],
  look: Look,
): Form {
  const box = pieces.reduce(around, body)
  const space = look.headSpace * (look.compact ? Math.min(1, 4.3 / (box.bottom - box.top)) : 1)
  // in the compact form nothing reaches into the band
  const sink = look.compact ? Math.min(0, look.headSpace * 0.8 - box.bottom * space) : 0
  const x = -body.left * space
  return {
    items: [{ shape: "group", x, y: sink, scale: space, content }],
    box: scaledBox(box, space, x, sink),
    pieces: pieces.map(piece => scaledBox(piece, space, x, sink)),
    bodies: new Map(bodies.map(([id, one]) => [id, scaledBox(one, space, x, sink)])),
  }
}

function restForm(timed: TimedSign, style: SignStyle, look: Look): Form {
  const { item, box } = drawSign(timed.sign, { clef: timed.clef }, style)
  const space = look.compact ? look.headSpace : look.staffSpace
  const y = look.compact ? -((box.top + box.bottom) / 2) * space : 0
  const own = scaledBox(box, space, 0, y)
  return withDots(timed, { shape: "group", y, scale: space, content: [item] }, own, style.lines - 1, look)
}

/** A form of one piece in px, with the dots behind it. */
function withDots(timed: TimedSign, item: Item, box: Box, position: number, look: Look): Form {
  const outside = timed.after.filter(dot => !timed.ligature?.members.includes(dot))
  const dots = dotsAfter(outside, position, { body: scaledBox(box, 1 / look.headSpace) }, look)
  const boxes = dots.boxes.map(one => scaledBox(one, look.headSpace))
  const behind: Item[] = dots.items.length > 0 ? [{ shape: "group", scale: look.headSpace, content: dots.items }] : []
  return {
    items: [item, ...behind],
    box: boxes.reduce(around, box),
    pieces: [box, ...boxes],
    bodies: new Map([[timed.sign.id, box]]),
  }
}

function ligatureForm(timed: TimedSign, ligature: Ligature, voice: TimeVoice, look: Look): Form {
  const heights = new Map(
    voice.signs
      .slice(timed.index, timed.index + ligature.members.length)
      .map(one => [one.sign.id, one.position] as const),
  )
  const middle = look.compact ? timed.position : 0
  const at = ({ id }: Note): number =>
    ((heights.get(id) ?? timed.position) - middle) / (look.compact ? 1.26 : stretch(look))
  const style = styleFor(voice.style, look)
  const inSpace = { ...ligature, members: ligature.members.map(member => dotInSpace(member, timed.position, look)) }
  const drawn = drawLigature(inSpace, at, style)
  const first = drawn.members.find(member => member.sign.kind === "note")?.body ?? drawn.body
  const bodies = drawn.members.map(member => [member.sign.id, member.body] as const)
  const { item, box } = editorial(ligature, ligatureItem(ligature, drawn), drawn.box)
  const dots = dotsAfter(
    timed.after.filter(dot => !ligature.members.includes(dot)),
    timed.position,
    drawn,
    look,
  )
  return formOf([item, ...dots.items], [box, ...dots.boxes], first, bodies, look)
}

function dotInSpace<T extends Ligature["members"][number]>(member: T, position: number, look: Look): T {
  if (member.kind !== "dot" || look.compact) return member
  return { ...member, loc: (member.loc ?? (position % 2 === 0 ? position + 1 : position)) / stretch(look) }
}

const ECHO = 0.8

/** A smaller solid head where a later note of a ligature sounds: it was not written there. */
function echoForm(timed: TimedSign, look: Look): Form {
  const space = look.headSpace * ECHO
  const level = timed.reading.level ?? "brevis"
  const path: Path = isLozenge(level)
    ? lozengeHead(0, 0, { kind: "full" })
    : squareHead(0, 0, LOZENGE_WIDTH, { kind: "full" })
  const y = look.compact ? 0 : yOf(timed.position) * look.staffSpace
  const half = (isLozenge(level) ? 0.78 : 0.6) * space
  const box = { left: 0, right: LOZENGE_WIDTH * space, top: y - half, bottom: y + half }
  const mark: Mark = {
    shape: "path",
    part: "echo",
    sign: timed.sign.id,
    path: moved(path, 0, y / space),
    fill: "clayEdge",
  }
  return {
    ...withDots(timed, { shape: "group", scale: space, content: [mark] }, box, timed.position, look),
    echo: true,
  }
}
const NO_BOX: Box = { left: 0, right: 0, top: 0, bottom: 0 }

/** Accidentals, clefs, strokes that stand before a moment, from right to left; x 0 is where the first of them ends. */
export function besideForm(
  signs: readonly Beside[],
  timed: Pick<TimedSign, "clef" | "position">,
  style: SignStyle,
  look: Look,
): Form {
  const items: Item[] = []
  const pieces: Box[] = []
  let x = 0
  for (const sign of [...signs].reverse()) {
    const drawn = drawSign(sign, { clef: timed.clef, before: timed.position }, style)
    const width = drawn.box.right - drawn.box.left
    if (width <= 0 || sign.kind === "custos" || (look.compact && sign.kind !== "accidental" && sign.kind !== "stroke"))
      continue
    const space = look.compact ? look.headSpace * 0.8 : look.staffSpace
    x -= width * space + 0.25 * space
    const y = look.compact ? -((drawn.box.top + drawn.box.bottom) / 2) * space : 0
    items.push({ shape: "group", x: x - drawn.box.left * space, y, scale: space, content: [drawn.item] })
    pieces.push(scaledBox(drawn.box, space, x - drawn.box.left * space, y))
  }
  return { items, box: pieces.reduce(around, NO_BOX), pieces, bodies: new Map() }
}
