/**
 * Where each sign stands in a drawing, and which sign stands at a point: for whoever shows it and is pointed at. What a group
 * holds is measured once, so asking again after a change costs what changed.
 */
import type { SignId, VoiceId } from "../../base/index.js"
import type { Box, Group, Item, Mark, Scene } from "../scene/scene.js"
import { around, markBox } from "../signs/index.js"

/** All in px of the whole drawing. */
export interface SignPlaces {
  /** Around what was written, wherever it is drawn: a clef stands again at the head of each line. In the order of the drawing. */
  readonly boxes: readonly Box[]
  /** Its band in the time view; one for each system in which it sounds. */
  readonly bands: readonly Box[]
  /** Its syllables. */
  readonly words: readonly Box[]
}

/** A staff of the page view. */
export interface LinePlace {
  readonly voice: VoiceId
  /** Around everything on it and under it. */
  readonly box: Box
  /** y of the bottom line. */
  readonly bottom: number
  /** Px in a staff space. */
  readonly space: number
  readonly lines: number
  /** The signs on it from left to right, a ligature as one. */
  readonly signs: readonly { readonly sign: SignId; readonly box: Box }[]
}

export interface ScenePlaces {
  readonly signs: ReadonlyMap<SignId, SignPlaces>
  readonly lines: readonly LinePlace[]
}

type Sort = "boxes" | "bands" | "words"
interface Piece {
  readonly sign: SignId
  readonly sort: Sort
  readonly box: Box
}
interface Measured {
  readonly pieces: readonly Piece[]
  readonly lines: readonly LinePlace[]
}

/** Marks about a sign that are not the sign: they are no place to point at. */
const ASIDE: ReadonlySet<string> = new Set(["sleeve", "thread", "selection", "cause", "zigzag"])

export function placesIn({ content }: Pick<Scene, "content">): ScenePlaces {
  const signs = new Map<SignId, { boxes: Box[]; bands: Box[]; words: Box[] }>()
  const { pieces, lines } = measure(content)
  for (const { sign, sort, box } of pieces) {
    const known = signs.get(sign) ?? { boxes: [], bands: [], words: [] }
    known[sort].push(box)
    signs.set(sign, known)
  }
  return { signs, lines }
}

/** Where these signs alone stand, measured now: quicker than all places of a drawing that was just made. Bands and words are left out. */
export function signBoxes(content: readonly Item[], wanted: ReadonlySet<SignId>): ReadonlyMap<SignId, Box[]> {
  const found = new Map<SignId, Box[]>()
  const add = (sign: SignId, box: Box): void => void found.set(sign, [...(found.get(sign) ?? []), box])
  const look = (items: readonly Item[], x: number, y: number, scale: number): void => {
    for (const item of items) {
      if (item.part !== undefined && ASIDE.has(item.part)) continue
      const isWanted = item.sign !== undefined && wanted.has(item.sign)
      if (item.shape !== "group") {
        if (isWanted && sortOf(item) === "boxes") add(item.sign!, placedBox(markBox(item), x, y, scale))
        continue
      }
      const [left, top, size] = [x + (item.x ?? 0) * scale, y + (item.y ?? 0) * scale, scale * (item.scale ?? 1)]
      const own = isWanted && item.part !== "duration" ? extent(item.content) : undefined
      if (own) add(item.sign!, placedBox(own, left, top, size))
      look(item.content, left, top, size)
    }
  }
  look(content, 0, 0, 1)
  return found
}

const placedBox = ({ left, right, top, bottom }: Box, x: number, y: number, scale: number): Box => ({
  left: x + left * scale,
  right: x + right * scale,
  top: y + top * scale,
  bottom: y + bottom * scale,
})

const measured = new WeakMap<readonly Item[], Measured>()

/** In the units of the items. */
function measure(content: readonly Item[]): Measured {
  const known = measured.get(content)
  if (known) return known
  const pieces: Piece[] = []
  const lines: LinePlace[] = []
  for (const item of content) {
    if (item.part !== undefined && ASIDE.has(item.part)) continue
    if (item.shape !== "group") {
      if (item.sign !== undefined) pieces.push({ sign: item.sign, sort: sortOf(item), box: markBox(item) })
      continue
    }
    const own = measureGroup(item)
    pieces.push(...own.pieces)
    lines.push(...own.lines)
  }
  const result = { pieces, lines }
  measured.set(content, result)
  return result
}

const sortOf = ({ part }: Mark): Sort => (part === "syllable" || part === "hyphen" ? "words" : "boxes")

function measureGroup(group: Group): Measured {
  const { x = 0, y = 0, scale = 1 } = group
  const placed = (box: Box): Box => placedBox(box, x, y, scale)
  const inner = measure(group.content)
  const own = group.sign === undefined ? [] : [ownPiece(group, group.sign)]
  const pieces = [...own.flat(), ...inner.pieces].map(piece => ({ ...piece, box: placed(piece.box) }))
  const lines = group.part === "line" ? [lineOf(group, inner.pieces)] : inner.lines
  return {
    pieces,
    lines: lines.flat().map(line => ({
      ...line,
      box: placed(line.box),
      bottom: y + line.bottom * scale,
      space: line.space * scale,
      signs: line.signs.map(one => ({ ...one, box: placed(one.box) })),
    })),
  }
}

function ownPiece(group: Group, sign: SignId): Piece[] {
  const isBand = group.part === "duration"
  const box = isBand ? bandBox(group) : extent(group.content)
  return box ? [{ sign, sort: isBand ? "bands" : "boxes", box }] : []
}

function bandBox({ content }: Group): Box | undefined {
  const band = content.find(one => one.part === "band" || one.part === "empty-band")
  return band && band.shape !== "group" ? markBox(band) : undefined
}

function extent(content: readonly Item[]): Box | undefined {
  let box: Box | undefined
  for (const item of content) {
    const own = item.shape === "group" ? groupExtent(item) : markBox(item)
    if (own) box = box ? around(box, own) : own
  }
  return box
}
function groupExtent({ x = 0, y = 0, scale = 1, content }: Group): Box | undefined {
  const box = extent(content)
  return box && placedBox(box, x, y, scale)
}

/** A staff as it stands in its own group: y is 0 on its bottom line. */
function lineOf(group: Group, pieces: readonly Piece[]): LinePlace[] {
  const voice = group.data?.["voice"]
  const box = extent(group.content)
  if (voice === undefined || !box) return []
  const lines = group.content.filter(item => item.part === "staff").length
  const cells = group.content.flatMap(item => (item.shape === "group" && item.part === undefined ? [item] : []))
  const outer = new Set(cells.map(firstSign))
  const signs = pieces.filter(({ sign, sort }) => sort === "boxes" && outer.has(sign))
  const once = signs.filter(({ sign }, i) => signs.findIndex(one => one.sign === sign) === i)
  const fromLeft = once.map(one => ({ sign: one.sign, box: one.box })).sort((a, b) => a.box.left - b.box.left)
  return [{ voice: voice as VoiceId, box, bottom: 0, space: 1, lines, signs: fromLeft }]
}

function firstSign(item: Item): SignId | undefined {
  if (item.sign !== undefined || item.shape !== "group") return item.sign
  for (const inner of item.content) {
    const found = firstSign(inner)
    if (found !== undefined) return found
  }
  return undefined
}

/**
 * The sign at a point: of those whose box, band or syllable holds the point the one with the smallest, else the nearest within
 * `reach` px. Notes of a ligature come before the ligature.
 */
export function signAt({ signs }: ScenePlaces, x: number, y: number, reach = 0): SignId | undefined {
  let best: { sign: SignId; far: number; size: number } | undefined
  for (const [sign, { boxes, bands, words }] of signs)
    for (const all of [boxes, bands, words])
      for (const box of all) {
        const far = distance(box, x, y)
        if (far > reach) continue
        const size = (box.right - box.left) * (box.bottom - box.top)
        if (!best || far < best.far || (far === best.far && size < best.size)) best = { sign, far, size }
      }
  return best?.sign
}

function distance({ left, right, top, bottom }: Box, x: number, y: number): number {
  return Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom))
}

/** A place between two signs of a staff, and the height on it: what a pointer or a caret stands at. */
export interface StaffPoint {
  readonly voice: VoiceId
  readonly line: LinePlace
  /** The signs on either side; undefined at an end of the line. */
  readonly before?: SignId
  readonly after?: SignId
  /** Steps above the bottom line. */
  readonly position: number
}

/** The staff of the page view that is nearest to a point, and where on it the point lies; undefined where there is no staff. */
export function staffPointAt({ lines }: ScenePlaces, x: number, y: number): StaffPoint | undefined {
  let nearest: { line: LinePlace; far: number } | undefined
  for (const line of lines) {
    const far = distance(line.box, x, y)
    if (!nearest || far < nearest.far) nearest = { line, far }
  }
  if (!nearest) return undefined
  const { line } = nearest
  const at = line.signs.findIndex(({ box }) => (box.left + box.right) / 2 > x)
  const [before, after] = at < 0 ? [line.signs.at(-1), undefined] : [line.signs[at - 1], line.signs[at]]
  return {
    voice: line.voice,
    line,
    ...(before ? { before: before.sign } : {}),
    ...(after ? { after: after.sign } : {}),
    position: Math.round(((line.bottom - y) * 2) / line.space),
  }
}
