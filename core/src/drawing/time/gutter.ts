/** Names, clefs and signatures on the left of a system. */
import type { Group, Item, TextMark, TypeStyle } from "../scene/scene.js"
import { drawClef, drawSignature } from "../signs/index.js"
import { textWidth } from "../text/width.js"
import { typeSize, type Look } from "./options.js"
import type { PlacedVoice } from "./place.js"
import type { TimeVoice } from "./timeline.js"

const GUTTER = 180
/** Free between the end of a clef or signature and moment zero, where a capital may stand. */
const CLEAR = 8

const nameType = (look: Look, size = 36): TypeStyle => ({ family: "words", size: typeSize(look, size), weight: 700 })
const nameOf = ({ voice }: TimeVoice): string => voice.label || voice.n

/** Wide enough for every name beside its clef, and no more than a third of the picture. */
export function gutterWidth(voices: readonly TimeVoice[], look: Look): number {
  const lead = staffLead(voices, look)
  const needed = voices.map(voice => textWidth(nameOf(voice), nameType(look)) + lead + 18 * look.size)
  return Math.min(look.width * 0.3, Math.max(GUTTER * look.size, ...needed))
}

/** How far staves reach out before moment zero. */
const openingWidth = (voice: TimeVoice, look: Look): number =>
  look.compact ? 20 * look.size : Math.max(40 * look.size, opening(voice, look, false).width + 10 * look.size)

function opening({ clef, signature, style }: TimeVoice, look: Look, signed: boolean): { items: Item[]; width: number } {
  const space = look.staffSpace
  const items: Item[] = []
  let x = 0
  for (const sign of [clef, signature]) {
    if (!sign) continue
    const { content, box } =
      sign.kind === "clef" ? drawClef(sign) : drawSignature(sign, clef ?? { shape: "C", line: 3 }, style)
    items.push({
      shape: "group",
      part: sign.kind,
      ...(signed ? { sign: sign.id } : {}),
      x: x - box.left * space,
      scale: space,
      content,
    })
    x += (box.right - box.left + 0.35) * space
  }
  return { items, width: x - (items.length > 0 ? 0.35 * space : 0) + CLEAR * look.size }
}

/** All staves of a system begin together: at the widest of their openings. */
export const staffLead = (voices: readonly TimeVoice[], look: Look): number =>
  Math.max(0, ...voices.map(voice => openingWidth(voice, look)))

export function drawGutter(placed: PlacedVoice, look: Look): Group {
  const { formed, axis, staffTop, staffBottom } = placed
  const { time } = formed
  const items: Item[] = []
  const begins = axis.left - axis.lead
  const name = nameMark(nameOf(time), axis.nameSize, begins - look.margin - 8 * look.size, look)
  items.push({ ...name, y: (staffTop + staffBottom) / 2 + name.type.size * (look.compact ? 0.2 : 0.24) })
  if (!look.compact) {
    const { items: signs, width } = opening(time, look, axis.first)
    items.push({ shape: "group", x: axis.left - axis.clear - width, y: staffBottom, content: signs })
  }
  return { shape: "group", part: "gutter", data: { voice: time.voice.id }, content: items }
}

/** Size at full size in which all names fit into the room; none is smaller than the smallest type. */
export function nameSizeFor(voices: readonly TimeVoice[], room: number, look: Look): number {
  const widest = Math.max(1, ...voices.map(voice => textWidth(nameOf(voice), nameType(look))))
  return widest <= room ? 36 : Math.max(24, Math.floor((36 * room) / widest))
}

/** Cut where there is too little room even so. */
function nameMark(name: string, size: number, room: number, look: Look): TextMark {
  const type = nameType(look, size)
  let text = name
  for (let kept = name.length - 1; kept > 0 && textWidth(text, type) > room; kept--) text = `${name.slice(0, kept)}…`
  return { shape: "text", part: "name", x: look.margin, y: 0, text, type, length: textWidth(text, type), fill: "red" }
}
