/** The page laid out for the window: voice by voice, so that a change costs one voice, and within it the lines that changed. */
import {
  layPage,
  placesIn,
  signAt,
  svgOf,
  type Group,
  type Item,
  type LaidPage,
  type LinePlace,
  type Page,
  type ScenePlaces,
  type SignId,
  type Voice,
  type VoiceId,
} from "@resolutio/core"
import { NO_PAGE } from "../../document/documents.js"
import { SHOWN } from "../../look/theme.js"

export interface LaidVoice {
  readonly voice: VoiceId
  /** Of its picture, in px of the whole page. */
  readonly top: number
  readonly width: number
  readonly height: number
  /** On the left of the staves; it lies outside the band. */
  readonly margin: number
  readonly unit: number
  readonly lines: readonly LaidLine[]
  /** In px of its own picture. */
  readonly places: ScenePlaces
}
/** A line, or the name over the first. */
export interface LaidLine {
  readonly svg: () => string
  readonly x: number
  readonly y: number
  /** How far it may reach, for telling whether it is seen. */
  readonly top: number
  readonly bottom: number
}

export interface PageLook {
  readonly width: number
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

  lay({ voices }: Page, look: PageLook): LaidVoice[] {
    const first = voices.map(voice => this.#voice(voice, look))
    // a line of the source that needs smaller staves makes all of them smaller
    const unit = Math.min(look.unit, ...first.map(one => one.unit))
    const same = first.map((one, i) => (one.unit > unit + 1e-6 ? this.#voice(voices[i]!, { ...look, unit }) : one))
    let top = 0
    return same.map(one => {
      const placed = { ...one, top }
      top += one.height
      return placed
    })
  }

  /** The sign at a point of the whole page. */
  signAt(voices: readonly LaidVoice[], x: number, y: number): SignId | undefined {
    const voice = voices.findLast(one => y >= one.top) ?? voices[0]
    return voice && signAt(voice.places, x + voice.margin, y - voice.top, REACH)
  }

  /** Between the signs of a staff: behind which sign, and how many steps above its bottom line. */
  spotAt(voices: readonly LaidVoice[], x: number, y: number): StaffSpot | undefined {
    const voice = voices.findLast(one => y >= one.top) ?? voices[0]
    if (!voice) return undefined
    const [left, top] = [x + voice.margin, y - voice.top]
    const far = (line: LinePlace): number => Math.abs(line.bottom - ((line.lines - 1) / 2) * line.space - top)
    const line = voice.places.lines.toSorted((a, b) => far(a) - far(b))[0]
    if (!line || far(line) > 6 * line.space) return undefined
    // a clef stands again at the head of every line: that is no place to write behind
    const own = line.signs.filter(({ sign, box }) => voice.places.signs.get(sign)?.boxes[0]?.left === box.left)
    const after = own.findLast(({ box }) => box.right <= left)?.sign
    return {
      voice: voice.voice,
      ...(after === undefined ? {} : { after }),
      height: Math.round((line.bottom - top) / (line.space / 2)),
    }
  }

  #voice(voice: Voice, { width, unit }: PageLook): Omit<LaidVoice, "top"> {
    const known = this.#known.get(voice.id)
    const look = `${width} ${unit}`
    if (known?.voice === voice && known.look === look) return known.shown
    const laid = layPage({ ...NO_PAGE, voices: [voice] }, { width, unit }, known?.laid)
    const shown = shownOf(voice.id, laid)
    this.#known.set(voice.id, { voice, laid, look, shown })
    return shown
  }
}

/** So near to a sign one may point at it. */
const REACH = 8
/** A line may reach so many staff spaces beyond its own staff. */
const BEYOND = 14

function shownOf(voice: VoiceId, { scene }: LaidPage): Omit<LaidVoice, "top"> {
  const [sheet] = scene.content as [Group]
  const scale = sheet.scale ?? 1
  const lines = sheet.content.map((item): LaidLine => {
    const group = item as Group
    const y = (sheet.y ?? 0) + (group.y ?? 0) * scale
    return {
      svg: () => written(group, scale),
      x: sheet.x ?? 0,
      y,
      top: y - BEYOND * scale,
      bottom: y + BEYOND * scale,
    }
  })
  return {
    voice,
    width: scene.width,
    height: scene.height,
    margin: sheet.x ?? 0,
    unit: scene.unit,
    lines,
    places: placesIn(scene),
  }
}

/** What was written of a line holds as long as its content is the same. */
const known = new WeakMap<readonly Item[], { readonly scale: number; readonly svg: string }>()
function written(line: Group, scale: number): string {
  const old = known.get(line.content)
  if (old?.scale === scale) return old.svg
  const svg = svgOf([{ ...line, x: 0, y: 0 }], { scale }, { theme: SHOWN })
  known.set(line.content, { scale, svg })
  return svg
}
