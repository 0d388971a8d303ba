/** What is round every figure: headline above; below a rule, what it says in a sentence, and its sources. */
import type { Item, Scene, TextMark } from "../../drawing/index.js"
import {
  cutTo,
  fittingSize,
  letters,
  NAME,
  paragraph,
  RUBRIC,
  RUBRIC_ROOM,
  SOURCE,
  words,
  type Block,
} from "./letters.js"
import type { FigureSize } from "./sizes.js"

/** Where a figure's own content stands, in units. */
export interface Room {
  readonly left: number
  readonly top: number
  readonly width: number
  /** Infinity where the figure is as high as it has to be. */
  readonly height: number
}

export interface Body {
  readonly items: readonly Item[]
  readonly height: number
  /** False where it is larger than its room. */
  readonly fits: boolean
  /** What the plate says is not about this one of its pictures. */
  readonly silent?: boolean
  /** In place of the plate's, where this is one of several pictures. */
  readonly alt?: string
  /** What of the whole it shows, for its caption. */
  readonly shows?: string
  /** How the whole was shared among pictures, for whoever asked for it. */
  readonly made?: string
  /** There was more to show, from this moment on. */
  readonly cutAt?: number
}

/** One picture before it has a size. */
export interface Plate {
  readonly headline: string
  /** Over those of its pictures of which the headline is not true, since what it tells of stands in another. */
  readonly elsewhere?: string
  /** "¶ cantus 5": the sign that is asked about; the rule is blue then. */
  readonly asked?: string
  /** What it says, in a sentence or two. */
  readonly says: string
  /** Rules and sources, a line each. */
  readonly caption: readonly string[]
  /** Such as "invented line". */
  readonly note?: string
  /** In place of the picture, for whoever cannot see it. */
  readonly alt: string
  /** Full heads in it were black on the page: to be said where the ground is dark. */
  readonly black?: boolean
  /** What bodies will say they show, as far as it can be told before they are drawn: room is kept for it. */
  foresees?(room: Room): string
  /** One body, or several where the figure needs more than one picture of this size. */
  draw(room: Room): Body | readonly Body[]
}

export interface FrameOptions {
  readonly size: FigureSize
  /** False: the caption goes to the file beside the figure. */
  readonly captioned: boolean
  readonly dark?: boolean
}

interface Foot {
  readonly items: readonly Item[]
  readonly height: number
}

const GAP = { underHead: 26, overRule: 34, underRule: 20, underSays: 12 }

export interface Framed {
  readonly scene: Scene
  readonly fits: boolean
  readonly cutAt?: number
  readonly made?: string
}

const LIGHT_HEADS = "Full heads, black on the page, are light here."

/** A plate in its frame: one scene for each body. */
export function frame(asked: Plate, { size, captioned, dark = false }: FrameOptions): Framed[] {
  const plate = dark && asked.black ? { ...asked, caption: [...asked.caption, LIGHT_HEADS] } : asked
  const { scale, margin } = size
  const width = size.width / scale
  const inner = width - 2 * margin
  const head = headline(plate.headline, size, inner)
  const other = plate.elsewhere === undefined ? undefined : headline(plate.elsewhere, size, inner)
  const top = margin * 0.72 + Math.max(head.height, other?.height ?? 0) + GAP.underHead
  const { bodies, feet, free } = drawn(plate, { left: margin, top, width: inner }, size, captioned)
  return bodies.map((body, i) => {
    const spare = Number.isFinite(free) ? Math.max(0, free - body.height) : 0
    // in print the words follow the figure; on a slide they stand at its foot
    const follows = size.printed !== undefined || !Number.isFinite(free)
    const footTop = top + (follows ? body.height : free) + GAP.overRule
    const silent = body.silent && other
    const content: Item[] = [
      ...(silent ? other : head).marks,
      { shape: "group", part: "figure", y: follows ? 0 : spare * 0.42, content: body.items },
      { shape: "group", part: "foot", x: margin, y: footTop, content: feet[i]!.items },
    ]
    const scene: Scene = {
      width: size.width,
      height: size.height ?? Math.ceil((footTop + feet[i]!.height + margin) * scale),
      unit: 30 * scale,
      title: (silent ? plate.elsewhere! : plate.headline) + (bodies.length > 1 ? `, ${i + 1} of ${bodies.length}` : ""),
      description: body.alt ?? plate.alt,
      language: "en",
      content: [{ shape: "group", scale, content: content.map(item => withLeastLines(item, 1 / scale)) }],
    }
    const { cutAt, made } = body
    const more = { ...(cutAt === undefined ? {} : { cutAt }), ...(made === undefined ? {} : { made }) }
    return { scene, fits: body.fits && body.height <= free + 0.5, ...more }
  })
}

interface Drawn {
  readonly bodies: readonly Body[]
  readonly feet: readonly Foot[]
  /** The height that bodies have. */
  readonly free: number
}

/** The bodies in the room that their own captions leave: drawn again where those turn out higher than was thought. */
function drawn(plate: Plate, room: Omit<Room, "height">, size: FigureSize, captioned: boolean): Drawn {
  const height = size.height === undefined ? Infinity : size.height / size.scale
  const freeOver = (foot: number): number => height - size.margin * 0.8 - foot - GAP.overRule - room.top
  const heightOf = (body: Pick<Body, "shows">) => footOf(footed(plate, body), size, room.width, captioned).height
  let reserved = heightOf({})
  const shows = plate.foresees?.({ ...room, height: freeOver(reserved) }) ?? ""
  if (shows !== "") reserved = heightOf({ shows })
  for (let turn = 0; ; turn++) {
    const free = freeOver(reserved)
    const made = plate.draw({ ...room, height: free })
    const bodies: readonly Body[] = Array.isArray(made) ? made : [made as Body]
    const feet = bodies.map(body => footOf(footed(plate, body), size, room.width, captioned))
    const most = Math.max(...feet.map(one => one.height))
    if (most <= reserved || !Number.isFinite(height) || turn === 2) return { bodies, feet, free }
    reserved = most
  }
}

/** The plate as far as its words are about this one of its pictures. */
function footed(plate: Plate, { silent, shows }: Pick<Body, "silent" | "shows">): Plate {
  const { asked: _, note: _note, ...rest } = plate
  const about = silent ? { ...rest, says: "", caption: [] } : plate
  return shows === undefined ? about : { ...about, caption: [shows, ...about.caption] }
}

/** No line is thinner than one px, however small the picture. */
function withLeastLines(item: Item, least: number): Item {
  if (item.shape === "group") {
    const own = least / (item.scale ?? 1)
    return { ...item, content: item.content.map(one => withLeastLines(one, own)) }
  }
  const { stroke } = item
  return stroke && stroke.width < least ? { ...item, stroke: { ...stroke, width: least } } : item
}

/** In one line if it can be, else in two; smaller where it is very long. */
function headline(text: string, size: FigureSize, room: number): Block {
  const type = words(size.headline, { weight: 700 })
  const one = fittingSize(text, type, room, 1, size.headline * 0.78)
  const wide = paragraph(text, { x: 0, top: 0, room }, one, { part: "headline", fill: "ink" }).marks.length > 1
  const own = wide ? fittingSize(text, { ...type, size: size.headline * 0.86 }, room, 2, NAME.size) : one
  const step = own.size * 1.12
  return paragraph(text, { x: size.margin, top: size.margin * 0.72, room, step }, own, {
    part: "headline",
    fill: "ink",
  })
}

function footOf(plate: Plate, size: FigureSize, room: number, captioned: boolean): Foot {
  const items: Item[] = []
  const says = words(size.width / size.scale >= 1500 ? 40 : 34)
  const caption = captioned ? plate.caption.filter(one => one !== "") : []
  // what the headline says is not said again
  const note = captioned && plate.note !== plate.headline ? plate.note : undefined
  if (plate.says === "" && caption.length === 0 && note === undefined) return { items, height: 0 }
  items.push({
    shape: "line",
    part: "rule",
    x1: 0,
    x2: room,
    y1: 0,
    y2: 0,
    stroke: { role: plate.asked === undefined ? "clayEdge" : "blue", width: 4 },
  })
  let y = GAP.underRule
  // beside the sentence where there is room, so that this begins where the staves do
  const rubric = plate.asked === undefined ? undefined : letters(`¶ ${plate.asked}`, 0, y + 32, RUBRIC, ASKED)
  const beside = rubric !== undefined && room > 1300 && rubric.length! + 20 <= RUBRIC_ROOM
  const left = beside ? RUBRIC_ROOM : 0
  if (rubric) items.push(rubric)
  if (rubric && !beside) y += 44
  const said = paragraph(plate.says, { x: left, top: y, room: room - left }, says, { part: "says", fill: "ink" })
  items.push(...said.marks)
  y += said.height + (said.height > 0 ? GAP.underSays : 0)
  const { marks, height } = captionLines(caption, note, { left, top: y, right: room })
  items.push(...marks)
  return { items, height: y + height }
}

const ASKED = { part: "rubric", fill: "red" } as const

/** Sources, and at the right of their last line what kind of music it is. */
function captionLines(
  caption: readonly string[],
  note: string | undefined,
  { left, top, right }: { left: number; top: number; right: number },
): Block {
  const marks: TextMark[] = []
  let y = top
  for (const line of caption) {
    const block = paragraph(line, { x: left, top: y, room: right - left, step: 33 }, SOURCE, {
      part: "source",
      fill: "second",
    })
    marks.push(...block.marks)
    y += block.height
  }
  if (note) {
    const type = words(28, { italic: true })
    const mark = letters(cutTo(note, right - left, type), right, y - 8, type, {
      part: "note",
      fill: "second",
      anchor: "end",
    })
    const last = marks.at(-1)
    const clear = last !== undefined && left + last.length! + mark.length! + 30 <= right
    marks.push(clear ? { ...mark, y: last.y } : { ...mark, y: y + 26 })
    if (!clear) y += 34
  }
  return { marks, height: y - top }
}
