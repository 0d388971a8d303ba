/** What is asked about one sign, in words: how long it lasts, why, and by which source. */
import type { SignId } from "../../base/index.js"
import { explainShort, headlineOf, otherLengths, sourceOf, type Reading } from "../../reading/index.js"
import type { Item, TextMark, TypeStyle } from "../scene/scene.js"
import { wrapped } from "../text/lines.js"
import { textWidth } from "../text/width.js"
import { typeSize, type Look } from "./options.js"
import type { TimeVoice } from "./timeline.js"

export interface Reason {
  /** "tenor 4". */
  readonly place: string
  readonly headline: string
  readonly sentences: string
  /** "" where the rule needs none. */
  readonly source: string
}

/**
 * Undefined where the sign is no note or rest of these voices. What is told comes from the readings themselves: a voice that
 * looks as it did in the last layout may have been read for other reasons.
 */
export function reasonOf(voices: readonly TimeVoice[], readings: readonly Reading[], id: SignId): Reason | undefined {
  for (const voice of voices) {
    if (!voice.byId.has(id)) continue
    const reading = readings.find(one => one.voice === voice.voice.id)
    const own = reading?.signs.find(one => one.id === id)
    if (!reading || !own) continue
    return {
      place: `${voice.voice.label || voice.voice.n} ${own.number}`,
      headline: headlineOf(reading, own),
      sentences: `${explainShort(reading, own)} ${otherLengths(reading, own)}`.trimEnd(),
      source: sourceOf(reading.practice.name, own.rule),
    }
  }
  return undefined
}

/** Words on the bottom: the rubric at the margin, the rest at moment zero. `height` is how far down they reach. */
export function drawReason(reason: Reason, left: number, top: number, look: Look): { items: Item[]; height: number } {
  const px = (value: number) => value * look.size
  const words = (size: number, more: Partial<TypeStyle> = {}): TypeStyle => ({
    family: "words",
    size: typeSize(look, size),
    ...more,
  })
  const type = words(32, { italic: true })
  const beside = left - look.margin - px(12)
  // where there is no margin to speak of, all of it begins at the left edge, and the place stands first
  const over = textWidth(rubricOf(reason), type) * SMALLER > beside
  const x = over ? look.margin : left
  const room = look.width - look.right - x
  const writer = new Writer(x, top + px(14), room)
  if (over) writer.write(rubricOf(reason), type, "rubric", "red", px(42))
  writer.write(`${reason.headline}.`, words(44, { weight: 700 }), "headline", "ink", px(52))
  writer.write(reason.sentences, words(32), "reason", "ink", px(42))
  if (reason.source !== "")
    writer.write(
      asManyAsFit(reason.source, room, look),
      { family: "figures", size: typeSize(look, 26) },
      "source",
      "second",
      px(36),
    )
  const marks = over ? writer.marks : [besideReason(reason, beside, top + px(14) + px(44), look), ...writer.marks]
  return {
    items: [{ shape: "group", part: "reason-line", content: marks }],
    height: writer.y - top + px(16),
  }
}

const rubricOf = ({ place }: Reason): string => `¶ ${place}`

/** The place at the margin. */
const besideReason = (reason: Reason, room: number, y: number, look: Look): TextMark => ({
  shape: "text",
  part: "rubric",
  x: look.margin,
  y,
  ...fitted(rubricOf(reason), room, { family: "words", size: typeSize(look, 32), italic: true }),
  fill: "red",
})

/** Sources stand in one line: the first ones, as many as there is room for. */
function asManyAsFit(source: string, room: number, look: Look): string {
  const type: TypeStyle = { family: "figures", size: typeSize(look, 26) }
  const all = source.split("; ")
  let kept = all.length
  while (kept > 1 && textWidth(all.slice(0, kept).join("; "), type) > room) kept--
  return all.slice(0, kept).join("; ")
}

/** A sentence in red by itself, such as where the voices part. */
export function drawRemark(text: string, top: number, look: Look): { items: Item[]; height: number } {
  const type: TypeStyle = { family: "words", size: typeSize(look, 32), italic: true }
  const writer = new Writer(look.margin, top, look.width - look.right - look.margin)
  writer.write(`¶ ${text}`, type, "remark", "red", 42 * look.size)
  return { items: writer.marks, height: writer.y - top + 12 * look.size }
}

/** A place that is too long for the margin is written in type so much smaller at the most. */
const SMALLER = 0.75

function fitted(text: string, room: number, type: TypeStyle): Pick<TextMark, "text" | "type" | "length"> {
  const wide = textWidth(text, type)
  const own = wide <= room ? type : { ...type, size: Math.max(type.size * SMALLER, (type.size * room) / wide) }
  return { text, type: own, length: textWidth(text, own) }
}

/** Lines of words under one another. */
class Writer {
  readonly marks: TextMark[] = []
  constructor(
    readonly x: number,
    public y: number,
    readonly room: number,
  ) {}

  write(text: string, type: TypeStyle, part: string, fill: "ink" | "second" | "red", step: number): void {
    for (const line of wrapped(text, type, this.room)) {
      this.y += step
      const length = textWidth(line, type)
      this.marks.push({ shape: "text", part, x: this.x, y: this.y - step * 0.16, text: line, type, length, fill })
    }
  }
}
