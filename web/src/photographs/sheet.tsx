import { useEffect, useRef, useState, type PointerEvent, type RefObject } from "react"
import type { Page } from "@resolutio/core"
import { useApp, useReading, useView } from "../app.js"
import { afterPaint } from "../parts/after-paint.js"
import { words } from "../words/index.js"
import { makeRegion, sidesOf } from "./photographs.js"
import { pointIn, placeOf, type Box, type Point } from "./places.js"
import { Region } from "./region.js"
import { regionAt } from "./regions-known.js"

type Surface = Page["surfaces"][number]

/** So far, in px of the window, one drags before it is a region and not a click. */
const DRAGGED = 6

/** The picture with its regions; a region is drawn by dragging over it. */
export function Sheet({
  surface,
  address,
  name,
}: {
  readonly surface: Surface
  readonly address: string | undefined
  readonly name: string
}) {
  const { documents } = useApp()
  const page = useReading(state => state.page)
  const zoom = useView(state => state.photograph?.zoom ?? 1)
  const lit = useView(state => state.selected)
  const region = regionAt(page, lit)
  const sheet = useRef<HTMLDivElement>(null)
  const scroll = useRef<HTMLDivElement>(null)
  const sides = sidesOf(surface, page.zones)
  const [left, top, right, bottom] = sides
  const [drawn, drawing] = useDrawing(sheet, sides, box => makeRegion(documents, surface.id, box))
  useRegionSeen(scroll, region, `${surface.id} ${zoom} ${address ?? ""}`)
  const here = page.zones.filter(one => one.surface === surface.id)
  return (
    <div ref={scroll} className="photograph-shown" tabIndex={0} role="group" aria-label={words.photographs.seen(name)}>
      <div
        ref={sheet}
        className="photograph-sheet"
        style={{ width: `${zoom * 100}%`, aspectRatio: `${right - left} / ${bottom - top}` }}
        {...drawing}
      >
        {address !== undefined && <img src={address} alt={words.photographs.alt(name)} draggable={false} />}
        {here.map((zone, i) => (
          <Region key={zone.id} zone={zone} sides={sides} number={i + 1} isLit={zone.id === region} sheet={sheet} />
        ))}
        {drawn && <div className="region-drawn" style={placeOf(drawn, sides)} />}
      </div>
    </div>
  )
}

const between = ([x1, y1]: Point, [x2, y2]: Point): Box => [
  Math.min(x1, x2),
  Math.min(y1, y2),
  Math.max(x1, x2),
  Math.max(y1, y2),
]

/** Dragging over the photograph: what is drawn so far, and what the element has to listen to. */
function useDrawing(sheet: RefObject<HTMLDivElement | null>, sides: Box, made: (box: Box) => void) {
  const [now, setNow] = useState<{ readonly from: Point; readonly to: Point; readonly far: boolean }>()
  const start = useRef<Point>([0, 0])
  const end = (isDone: boolean): void => {
    setNow(undefined)
    if (isDone && now?.far) made(between(now.from, now.to))
  }
  const handlers = {
    onPointerDown(event: PointerEvent<HTMLDivElement>): void {
      if (event.button !== 0 || !sheet.current) return
      event.currentTarget.setPointerCapture(event.pointerId)
      start.current = [event.clientX, event.clientY]
      const from = pointIn(sheet.current, sides, event.clientX, event.clientY)
      setNow({ from, to: from, far: false })
    },
    onPointerMove({ clientX, clientY }: PointerEvent<HTMLDivElement>): void {
      if (!now || !sheet.current) return
      const far = now.far || Math.hypot(clientX - start.current[0], clientY - start.current[1]) > DRAGGED
      setNow({ from: now.from, to: pointIn(sheet.current, sides, clientX, clientY), far })
    },
    onPointerUp: () => end(true),
    onPointerCancel: () => end(false),
  }
  return [now?.far ? between(now.from, now.to) : undefined, handlers] as const
}

/** The photograph follows the cursor from region to region. */
function useRegionSeen(scroll: RefObject<HTMLDivElement | null>, region: string | undefined, look: string): void {
  useEffect(
    () =>
      afterPaint(() => {
        const lit = scroll.current?.querySelector("[data-lit]")
        const [outer, inner] = [scroll.current?.getBoundingClientRect(), lit?.getBoundingClientRect()]
        if (!scroll.current || !outer || !inner) return
        if (inner.top < outer.top || inner.bottom > outer.bottom)
          scroll.current.scrollTop += inner.top - outer.top - Math.max(0, (outer.height - inner.height) / 2)
        if (inner.left < outer.left || inner.right > outer.right)
          scroll.current.scrollLeft += inner.left - outer.left - 8
      }),
    [scroll, region, look],
  )
}
