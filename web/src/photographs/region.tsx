import { useEffect, useRef, useState, type KeyboardEvent, type PointerEvent, type RefObject } from "react"
import { writing, type Page } from "@resolutio/core"
import { useApp, useReading, useView } from "../app.js"
import { words } from "../words/index.js"
import { numberIn, showPhotograph } from "./photographs.js"
import { goToRegion, placeOf, pointIn, type Box } from "./places.js"
import { beginningAt } from "./regions-known.js"

type Zone = Page["zones"][number]
const said = words.photographs
/** Which edges a corner moves. */
type Corner = "whole" | "first" | "last"
/** An arrow key moves so many hundredths of the photograph's width; with Ctrl one px. */
const STEP = 0.01

/** A region: a click goes to its signs; it is dragged, and drawn out at two corners; arrow keys do the same. */
export function Region({
  zone,
  sides,
  number,
  isLit,
  sheet,
}: {
  readonly zone: Zone
  readonly sides: Box
  readonly number: number
  readonly isLit: boolean
  readonly sheet: RefObject<HTMLDivElement | null>
}) {
  const { documents } = useApp()
  const page = useReading(state => state.page)
  const isLaid = useView(state => state.photograph?.region === zone.id)
  const button = useRef<HTMLButtonElement>(null)
  const gesture = useRef(0)
  const { id } = zone
  const move = (box: Box, held?: string): void =>
    void documents.act(writing.moveRegion(documents.store.getState().page, id, box), said.steps.moved, held)
  const [moved, drag] = useDragging(sheet, sides, zone.box, move)
  useEffect(() => {
    if (isLaid) button.current?.focus()
  }, [isLaid])
  const onKey = (event: KeyboardEvent): void => {
    const box = keyed(event, zone.box, sides)
    if (box) move(box, `region ${id} ${gesture.current}`)
    else if (event.key === "Delete" || event.key === "Backspace") take()
    else if (event.key === "Enter" || event.key === " ") settle()
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  const take = (): void =>
    void documents.act(writing.takeRegions(documents.store.getState().page, new Set([id])), said.steps.taken)
  /** The region lies as it should: the keys are the music's again. */
  const settle = (): void => {
    showPhotograph({ region: undefined })
    document.querySelector<HTMLElement>("section.page .listbox")?.focus()
  }
  return (
    <div
      className={isLit ? "region lit" : "region"}
      data-lit={isLit ? "" : undefined}
      style={placeOf(moved ?? zone.box, sides)}
    >
      <button
        ref={button}
        type="button"
        aria-label={nameOf(page, id, number)}
        aria-description={said.regionHow}
        onKeyDown={onKey}
        onBlur={() => {
          gesture.current++
          if (isLaid) showPhotograph({ region: undefined })
        }}
        onClick={() => goToRegion(page, id)}
        {...drag("whole")}
      />
      <span className="corner first" aria-hidden="true" {...drag("first")} />
      <span className="corner last" aria-hidden="true" {...drag("last")} />
    </div>
  )
}

function nameOf(page: Page, zone: string, number: number): string {
  const begins = beginningAt(page, zone)
  if (!begins) return said.regionAlone(number)
  const voice = page.voices.find(one => one.id === begins.voice)
  return said.regionOf(number, voice?.label || voice?.n || "", numberIn(page, begins.sign))
}

function keyed({ key, shiftKey, ctrlKey, altKey }: KeyboardEvent, box: Box, sides: Box): Box | undefined {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key]
  if (!way || altKey) return undefined
  const step = ctrlKey ? 1 : Math.max(1, (sides[2] - sides[0]) * STEP)
  return shifted(box, shiftKey ? "last" : "whole", way[0]! * step, way[1]! * step, sides)
}

/** Moved or drawn out, but never beyond the photograph. */
function shifted(
  [x1, y1, x2, y2]: Box,
  corner: Corner,
  byX: number,
  byY: number,
  [left, top, right, bottom]: Box,
): Box {
  const held = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value))
  if (corner === "first") return [held(x1 + byX, left, x2 - 1), held(y1 + byY, top, y2 - 1), x2, y2]
  if (corner === "last") return [x1, y1, held(x2 + byX, x1 + 1, right), held(y2 + byY, y1 + 1, bottom)]
  const [x, y] = [held(byX, left - x1, right - x2), held(byY, top - y1, bottom - y2)]
  return [x1 + x, y1 + y, x2 + x, y2 + y]
}

/** While it is dragged only its picture moves; what is kept changes when it is let go. */
function useDragging(sheet: RefObject<HTMLDivElement | null>, sides: Box, box: Box, done: (box: Box) => void) {
  const [now, setNow] = useState<Box>()
  const start = useRef<{ readonly at: readonly [number, number]; readonly corner: Corner }>(undefined)
  const at = ({ clientX, clientY }: PointerEvent) => pointIn(sheet.current!, sides, clientX, clientY)
  const drag = (corner: Corner) => ({
    onPointerDown(event: PointerEvent): void {
      if (event.button !== 0) return
      event.stopPropagation()
      event.currentTarget.setPointerCapture(event.pointerId)
      start.current = { at: at(event), corner }
    },
    onPointerMove(event: PointerEvent): void {
      const from = start.current
      if (!from) return
      const [x, y] = at(event)
      setNow(shifted(box, from.corner, x - from.at[0], y - from.at[1], sides))
    },
    onPointerUp(): void {
      start.current = undefined
      setNow(undefined)
      if (now && Math.max(...now.map((side, i) => Math.abs(side - box[i]!))) > (sides[2] - sides[0]) * 0.004) done(now)
    },
    onPointerCancel(): void {
      start.current = undefined
      setNow(undefined)
    },
  })
  return [now, drag] as const
}
