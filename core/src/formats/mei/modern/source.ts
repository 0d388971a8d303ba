/** Signs, breaks and strokes of the page over the notes that they stand before. */
import type { EditionConventions } from "../../../edition/index.js"
import type { MensurationSign, Proportion } from "../../../page/index.js"
import { editorHand, type ScoreVoice } from "../../../score/index.js"
import {
  breakWords,
  figuresOf,
  mensurationParts,
  shownBreaks,
  shownSigns,
  strokeWords,
  type SourcePart,
} from "../../source-words.js"
import { element, type XmlElement } from "../../xml.js"
import { token } from "../tokens.js"
import { scoreId } from "./ids.js"
import { IN_BRACKETS } from "./layer.js"

/** By the note or rest they stand before. Words in their type say exactly what is drawn, as those of the mensural file do. */
export function sourceMarks(
  voice: ScoreVoice,
  staff: number,
  conventions: EditionConventions,
): ReadonlyMap<string, readonly XmlElement[]> {
  const marks = new Map<string, XmlElement[]>()
  const put = (before: string | null, type: string, ...content: (XmlElement | string)[]) => {
    if (before === null) return
    const dir = element("dir", { type, staff, startid: `#${scoreId(before)}`, place: "above" }, ...content)
    marks.set(before, [...(marks.get(before) ?? []), dir])
  }
  for (const { before, written } of shownSigns(voice, conventions))
    put(
      before,
      `${signType(written)}${editorHand(written) ? ` ${IN_BRACKETS}` : ""}`,
      ...mensurationParts(written).map(partElement),
    )
  for (const { before, written } of shownBreaks(voice, conventions))
    put(before, `source-break ${token("of", written.of)}`, upright(breakWords(written)))
  for (const { before, written } of voice.strokes) {
    const words = conventions.divisionStrokes === "shown" ? strokeWords(written) : undefined
    if (words !== undefined) put(before, `stroke ${token("form", written.form)}`, upright(words))
  }
  return marks
}

function partElement(part: SourcePart): XmlElement {
  if ("text" in part) return upright(part.text)
  return element("symbol", { "glyph.auth": "smufl", "glyph.name": part.glyph })
}

function upright(text: string): XmlElement {
  return element("rend", { fontstyle: "normal", fontsize: "80%" }, text)
}

/** "mensuration sign:O dots:1 strokes:1", or "proportion figures:3:2". */
function signType(written: MensurationSign | Proportion): string {
  if (written.kind === "proportion") {
    const figures = [written.num, ...(written.numbase ? [written.numbase] : [])]
    return `proportion ${token("figures", ...figures)}`
  }
  const { sign, dots, strokes, reversed, orientation, letter } = written
  const figures = figuresOf(written)
  const words = [
    "mensuration",
    sign && token("sign", sign),
    dots && token("dots", dots),
    strokes && token("strokes", strokes),
    reversed && "reversed",
    orientation && token("orientation", orientation),
    figures.length > 0 && token("figures", ...figures),
    letter && token("letter", letter),
  ]
  return words.filter(word => typeof word === "string").join(" ")
}
