import { cartouchesRound, svgOf, wedgesOver, type DrawnMark, type SignId } from "@resolutio/core"
import { memo } from "react"
import { SHOWN } from "../../look/theme.js"
import { Drawing } from "../../parts/drawing.js"
import { LineShown } from "./line-shown.js"
import type { LaidVoice } from "./layout.js"
import type { LineDrawing } from "./line-drawing.js"
import type { Seen } from "./use-seen.js"

/** The lines of one voice, as far as they are near to being seen. */
export const Staves = memo(function Staves({
  voice,
  seen,
  chosen,
  sounding,
  causes,
}: {
  readonly voice: LaidVoice
  readonly seen: Seen
  readonly chosen: readonly SignId[]
  readonly sounding: readonly SignId[]
  /** Signs that made the chosen one so. */
  readonly causes: readonly SignId[]
}) {
  const { lines, top, width, height, margin, unit } = voice
  const middle = (seen.from + seen.to) / 2 - top
  const half = (seen.to - seen.from) / 2
  return (
    <svg
      style={{ marginInlineStart: -margin }}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      aria-hidden="true"
    >
      {lines.map(({ drawing, x, y }, i) =>
        drawing.reaches(y - middle, half) ? <LineShown key={i} drawing={drawing} x={x} y={y} /> : null,
      )}
      {lines.map(({ drawing, x, y }, i) => {
        const svg = marksOn(drawing, unit, { chosen, sounding, causes })
        return svg === undefined ? null : <Drawing key={`asked ${i}`} className="asked-mark" svg={svg} x={x} y={y} />
      })}
    </svg>
  )
})

/** What stands over the signs of a line without being part of it: round those chosen, under their causes, over what sounds. */
export function marksOn(
  drawing: LineDrawing,
  unit: number,
  { chosen, sounding, causes }: Readonly<Record<"chosen" | "sounding" | "causes", readonly SignId[]>>,
): string | undefined {
  const asked = chosen.filter(sign => drawing.holds(sign)).flatMap(sign => cartouchesRound(drawing.boxesOf(sign), unit))
  const heard = sounding.filter(sign => drawing.holds(sign))
  const beads = causes.filter(sign => drawing.holds(sign)).flatMap(sign => beadsUnder(drawing, sign, unit))
  const wedges = heard.length > 0 ? wedgesOver(drawing.places, heard, unit) : []
  const marks = [...asked, ...beads, ...wedges]
  return marks.length > 0 ? svgOf(marks, {}, { theme: SHOWN }) : undefined
}

/** A bead under a sign that is the cause of what is asked about. */
function beadsUnder(drawing: LineDrawing, sign: SignId, unit: number): DrawnMark[] {
  return drawing.boxesOf(sign).map(({ left, right, bottom }) => ({
    shape: "circle",
    part: "cause",
    x: (left + right) / 2,
    y: bottom + unit * 0.6,
    radius: Math.max(2.5, unit * 0.3),
    fill: "blue",
  }))
}
