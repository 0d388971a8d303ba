import { cartouchesOver, svgOf, type SignId } from "@resolutio/core"
import { memo, useMemo } from "react"
import { SHOWN } from "../../look/theme.js"
import { Drawing } from "../../parts/drawing.js"
import type { LaidVoice } from "./layout.js"
import type { Window } from "./page-band.js"

/** The lines of one voice, as far as they are near to being seen. */
export const Staves = memo(function Staves({
  voice,
  window,
  chosen,
}: {
  readonly voice: LaidVoice
  readonly window: Window
  readonly chosen: readonly SignId[]
}) {
  const { lines, top, width, height, margin, places, unit } = voice
  const asked = useMemo(() => {
    const marks = chosen.filter(sign => places.signs.has(sign)).flatMap(sign => cartouchesOver(places, sign, unit))
    return marks.length > 0 ? svgOf(marks, {}, { theme: SHOWN }) : undefined
  }, [places, chosen, unit])
  return (
    <svg
      style={{ marginInlineStart: -margin }}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      aria-hidden="true"
    >
      {lines.map((line, i) =>
        top + line.bottom >= window.from && top + line.top <= window.to ? (
          <Drawing key={i} svg={line.svg()} x={line.x} y={line.y} />
        ) : null,
      )}
      {asked !== undefined && <Drawing className="asked-mark" svg={asked} />}
    </svg>
  )
})
