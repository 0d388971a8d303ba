/** Names, clefs and signatures on the left of a system. */
import type { Hand } from "../scene/hand.js"
import type { Item, TextMark, TypeStyle } from "../scene/scene.js"
import { drawClef, drawSignature, type SignStyle } from "../signs/index.js"
import { knownWidth } from "../text/width.js"
import { typeSize, type Look } from "./options.js"
import type { Opening, PlacedVoice } from "./place.js"
import type { TimeVoice } from "./timeline.js"

const GUTTER = 180
/** Free between the end of a clef or signature and moment zero, where a capital may stand. */
const CLEAR = 8

const nameTypes = new WeakMap<Look, Map<number, TypeStyle>>()

/** The same object for the same size. */
function nameType(look: Look, size = 36): TypeStyle {
  let known = nameTypes.get(look)
  if (known === undefined) nameTypes.set(look, (known = new Map()))
  let type = known.get(size)
  if (type === undefined) known.set(size, (type = { family: "words", size: typeSize(look, size), weight: 700 }))
  return type
}
const nameOf = ({ voice }: TimeVoice): string => voice.label || voice.n

/** A name beside its staff that is wider, in px at full size, stands in two lines if it has several words. */
const WIDE_NAME = 160

function nameLines(voice: TimeVoice, look: Look): readonly string[] {
  const name = nameOf(voice)
  const type = nameType(look)
  const words = name.split(/\s+/).filter(Boolean)
  const stands = look.names > 0 || look.compact || words.length < 2
  return stands || knownWidth(name, type) <= WIDE_NAME * look.size ? [name] : balanced(words, type)
}

/** In two lines, so that the longer of them is as short as it can be. */
function balanced(words: readonly string[], type: TypeStyle): readonly string[] {
  let best: readonly string[] = []
  let least = Infinity
  for (let at = 1; at < words.length; at++) {
    const lines = [words.slice(0, at).join(" "), words.slice(at).join(" ")]
    const width = widest(lines, type)
    if (width < least) [best, least] = [lines, width]
  }
  return best
}
const widest = (lines: readonly string[], type: TypeStyle): number =>
  Math.max(...lines.map(line => knownWidth(line, type)))

/** Wide enough for every name beside its clef, and no more than a third of the picture. */
export function gutterWidth(voices: readonly TimeVoice[], lead: number, look: Look): number {
  if (look.names > 0) return lead + 6 * look.size
  const needed = voices.map(voice => widest(nameLines(voice, look), nameType(look)) + lead + 18 * look.size)
  return Math.min(look.width * 0.3, Math.max(GUTTER * look.size, ...needed))
}

interface OpeningForm {
  readonly items: readonly Item[]
  readonly width: number
}

/** How far staves reach out before moment zero. */
const openingWidth = ({ width }: OpeningForm, look: Look): number =>
  look.compact ? 20 * look.size : Math.max(40 * look.size, width + 10 * look.size)

const openings = new WeakMap<Look, Map<string, OpeningForm>>()

/** The same for all that look so, unless it has ids of its own. */
function openingForm(opening: Opening, style: SignStyle, look: Look): OpeningForm {
  if (opening.isNew) return drawOpening(opening, style, look)
  const known = openings.get(look) ?? new Map<string, OpeningForm>()
  openings.set(look, known)
  const { clef, signature } = opening
  const key = `${clef?.shape} ${clef?.line} ${style.lines} ${style.clefs} ${JSON.stringify(signature?.accidentals)}`
  const form = known.get(key) ?? drawOpening(opening, style, look)
  known.set(key, form)
  return form
}

function drawOpening({ clef, signature, isNew }: Opening, style: SignStyle, look: Look): OpeningForm {
  const space = look.staffSpace
  const items: Item[] = []
  let x = 0
  for (const sign of [clef, signature]) {
    if (!sign) continue
    const { content, box } =
      sign.kind === "clef" ? drawClef(sign, style.clefs) : drawSignature(sign, clef ?? { shape: "C", line: 3 }, style)
    items.push({
      shape: "group",
      part: sign.kind,
      ...(isNew ? { sign: sign.id } : {}),
      x: x - box.left * space,
      scale: space,
      content,
    })
    x += (box.right - box.left + 0.35) * space
  }
  return { items, width: x - (items.length > 0 ? 0.35 * space : 0) + CLEAR * look.size }
}

/** All staves of a piece begin together: at the widest of their openings. */
export function staffLead(voices: readonly TimeVoice[], look: Look): number {
  const widths = voices.flatMap(({ heads, style }) =>
    heads.map(head => openingWidth(openingForm({ ...head, isNew: false }, style, look), look)),
  )
  return Math.max(0, ...widths)
}

/** From one line of a name to the next, in its size. */
const NAME_LINE = 1.05

export function drawGutter(
  { formed, axis, opening, top, staffTop, staffBottom }: PlacedVoice,
  look: Look,
  hand: Hand,
): void {
  const { time } = formed
  const begins = axis.left - axis.lead
  const room = look.names > 0 ? axis.right - look.margin : begins - look.margin - 8 * look.size
  const lines = nameLines(time, look).map(line => nameMark(line, axis.nameSize, room, look))
  const { size } = lines[0]!.type
  const middle = (staffTop + staffBottom) / 2 + size * (look.compact ? 0.2 : 0.24)
  const first = look.names > 0 ? top + 21 * look.size : middle - ((lines.length - 1) * size * NAME_LINE) / 2
  hand.open("gutter", undefined, { voice: time.voice.id })
  for (const [i, { x, text, type, length }] of lines.entries())
    hand.words("name", undefined, x, first + i * size * NAME_LINE, text, type, "start", length!, "red")
  if (!look.compact) {
    const { items: signs, width } = openingForm(opening, time.style, look)
    hand.group(undefined, undefined, axis.left - axis.clear - width, staffBottom, undefined, signs)
  }
  hand.close()
}

/** Size at full size in which all names fit into the room; none is smaller than the smallest type. */
export function nameSizeFor(voices: readonly TimeVoice[], room: number, look: Look): number {
  if (look.names > 0) return 28
  const most = Math.max(1, ...voices.map(voice => widest(nameLines(voice, look), nameType(look))))
  return most <= room ? 36 : Math.max(24, Math.floor((36 * room) / most))
}

/** Where the name that stands over a voice ends; the left edge of the picture where names stand beside their voices. */
export function nameEnd({ formed: { time }, axis }: PlacedVoice, look: Look): number {
  if (look.names === 0) return 0
  const { x, length } = nameMark(nameOf(time), axis.nameSize, axis.right - look.margin, look)
  return x + length!
}

/** Cut where there is too little room even so. */
function nameMark(name: string, size: number, room: number, look: Look): TextMark {
  const type = nameType(look, size)
  let text = name
  for (let kept = name.length - 1; kept > 0 && knownWidth(text, type) > room; kept--) text = `${name.slice(0, kept)}…`
  return { shape: "text", part: "name", x: look.margin, y: 0, text, type, length: knownWidth(text, type), fill: "red" }
}
