/** The page laid out for the window: voice by voice, so that a change costs one voice, and within it the lines that changed. */
import {
  layPage,
  signAt,
  type Box,
  type Group,
  type LaidPage,
  type Page,
  type SignId,
  type Voice,
  type VoiceId,
} from "@resolutio/core"
import { NO_PAGE } from "../../document/documents.js"
import { LineDrawing } from "./line-drawing.js"

export interface LaidVoice {
  readonly voice: VoiceId
  /** Of its picture, in px of the whole page. */
  readonly top: number
  readonly width: number
  readonly height: number
  /** On the left of the staves; it lies outside the band. */
  readonly margin: number
  readonly unit: number
  /** From top to bottom; the name over the first staff is one too. */
  readonly lines: readonly LaidLine[]
}
export interface LaidLine {
  readonly drawing: LineDrawing
  readonly x: number
  readonly y: number
}

export interface PageLook {
  readonly width: number
  /** Px in a staff space, where no line of the source needs it smaller. */
  readonly unit: number
}

/** A place on a staff where something can be written. */
export interface StaffSpot {
  readonly voice: VoiceId
  readonly after?: SignId
  /** Steps above the bottom line. */
  readonly height: number
}

interface Known {
  readonly voice: Voice
  readonly laid: LaidPage
  readonly look: string
  readonly shown: Omit<LaidVoice, "top">
}

export class PageLayout {
  readonly #known = new Map<VoiceId, Known>()
  /** What a line of some voice needed, for this look. */
  #narrow: { readonly look: string; readonly unit: number; readonly by: Voice } | undefined

  /** All voices under one another, their staves of one size. */
  lay({ voices }: Page, look: PageLook): LaidVoice[] {
    const key = `${look.width} ${look.unit}`
    // who needed smaller staves may not need them any more
    if (this.#narrow && (this.#narrow.look !== key || !voices.includes(this.#narrow.by))) this.#narrow = undefined
    for (;;) {
      const unit = this.#narrow?.unit ?? look.unit
      const laid = voices.map(voice => this.#voice(voice, { ...look, unit }))
      const smallest = laid.reduce<Omit<LaidVoice, "top"> | undefined>(
        (one, other) => (one && one.unit <= other.unit ? one : other),
        undefined,
      )
      if (!smallest || smallest.unit > unit - 1e-6) return stacked(laid)
      this.#narrow = { look: key, unit: smallest.unit, by: voices.find(one => one.id === smallest.voice)! }
    }
  }

  #voice(voice: Voice, { width, unit }: PageLook): Omit<LaidVoice, "top"> {
    const known = this.#known.get(voice.id)
    const look = `${width} ${unit}`
    if (known?.voice === voice && known.look === look) return known.shown
    const laid = layPage({ ...NO_PAGE, voices: [voice] }, { width, unit, settled: true }, known?.laid)
    const shown = shownOf(voice.id, laid)
    this.#known.set(voice.id, { voice, laid, look, shown })
    return shown
  }
}

const placed = new WeakMap<Omit<LaidVoice, "top">, LaidVoice>()
/** A voice that stands where it stood is the very same. */
function stacked(laid: readonly Omit<LaidVoice, "top">[]): LaidVoice[] {
  let top = 0
  return laid.map(one => {
    const known = placed.get(one)
    const now = known?.top === top ? known : { ...one, top }
    placed.set(one, now)
    top += one.height
    return now
  })
}

/** Staff spaces over and under a voice: those of a sheet of paper would only take room. What stands over and under signs has its place. */
const [ABOVE, BELOW] = [1, 1.6]

function shownOf(voice: VoiceId, { scene }: LaidPage): Omit<LaidVoice, "top"> {
  const [sheet] = scene.content as readonly [Group]
  const { x = 0, y = 0, scale = 1 } = sheet
  const [above, below] = [y - ABOVE * scale, y - BELOW * scale]
  const lines = sheet.content.map((item): LaidLine => {
    const group = item as Group
    return {
      drawing: LineDrawing.of(group, scale),
      x: x + (group.x ?? 0) * scale,
      y: y + (group.y ?? 0) * scale - above,
    }
  })
  return { voice, width: scene.width, height: scene.height - above - below, margin: x, unit: scene.unit, lines }
}

/** So near to a sign one may point at it. */
const REACH = 8

/** The sign at a point of the whole page. */
export function signAtPoint(voices: readonly LaidVoice[], x: number, y: number): SignId | undefined {
  const voice = voices.findLast(one => y >= one.top) ?? voices[0]
  if (!voice) return undefined
  const [left, top] = [x + voice.margin, y - voice.top]
  for (const { drawing, x: lineX, y: lineY } of voice.lines) {
    const sign = drawing.reaches(top - lineY, REACH)
      ? signAt(drawing.places, left - lineX, top - lineY, REACH)
      : undefined
    if (sign !== undefined) return sign
  }
  return undefined
}

/** Between the signs of a staff: behind which sign, and how many steps above its bottom line. */
export function spotAtPoint(voices: readonly LaidVoice[], x: number, y: number): StaffSpot | undefined {
  const voice = voices.findLast(one => y >= one.top) ?? voices[0]
  if (!voice) return undefined
  const [left, top] = [x + voice.margin, y - voice.top]
  const staves = voice.lines.flatMap((line, i) => line.drawing.places.lines.map(staff => ({ line, staff, first: i })))
  const far = ({ line, staff }: (typeof staves)[number]): number =>
    Math.abs(line.y + staff.bottom - ((staff.lines - 1) / 2) * staff.space - top)
  const near = staves.toSorted((a, b) => far(a) - far(b))[0]
  if (!near || far(near) > 6 * near.staff.space) return undefined
  const { line, staff, first } = near
  // a clef stands again at the head of every line: that is no place to write behind
  const own = staff.signs.filter(({ sign }) => !voice.lines.slice(0, first).some(({ drawing }) => drawing.holds(sign)))
  const after = own.findLast(({ box }) => line.x + box.right <= left)?.sign
  return {
    voice: voice.voice,
    ...(after === undefined ? {} : { after }),
    height: Math.round((line.y + staff.bottom - top) / (staff.space / 2)),
  }
}

/** Where a sign stands, and its line: in px of the whole page. */
export function placeOf(
  voices: readonly LaidVoice[],
  sign: SignId,
): { readonly voice: LaidVoice; readonly line: LaidLine; readonly box: Box } | undefined {
  for (const voice of voices)
    for (const line of voice.lines) {
      const [box] = line.drawing.boxesOf(sign)
      if (box) return { voice, line, box: moved(box, line.x - voice.margin, voice.top + line.y) }
    }
  return undefined
}

const moved = ({ left, right, top, bottom }: Box, x: number, y: number): Box => ({
  left: left + x,
  right: right + x,
  top: top + y,
  bottom: bottom + y,
})
