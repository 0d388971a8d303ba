/**
 * The thread from the sign on the page to the same sign in time, and on to its reason. It runs in the white between the bands: at
 * music it stops and goes on below.
 */
import { useEffect, useLayoutEffect, useState } from "react"
import { useReading, useView } from "../app.js"
import { afterPaint } from "../parts/after-paint.js"

export function Thread() {
  const selected = useView(state => state.selected)
  const open = useView(state => state.open)
  const alone = useView(state => state.alone)
  const time = useReading(state => state.time)
  const [path, setPath] = useState("")
  useLayoutEffect(() => setPath(""), [selected])
  useEffect(() => {
    let callOff = (): void => undefined
    const draw = (): void => {
      callOff()
      callOff = afterPaint(() => setPath(selected === undefined ? "" : pathNow()))
    }
    draw()
    // the marks of the sign come a moment after it was chosen
    const marks = new MutationObserver(draw)
    for (const music of document.querySelectorAll(".shown")) marks.observe(music, { childList: true, subtree: true })
    const sizes = new ResizeObserver(draw)
    for (const band of document.querySelectorAll("main.bands > section")) sizes.observe(band)
    document.addEventListener("scroll", draw, { capture: true, passive: true })
    return () => {
      callOff()
      marks.disconnect()
      sizes.disconnect()
      document.removeEventListener("scroll", draw, { capture: true })
    }
  }, [selected, open, alone, time])
  return (
    <svg className="thread" aria-hidden="true">
      {path !== "" && <path className="asked-mark" d={path} fill="none" stroke="var(--blue)" strokeWidth="2" />}
    </svg>
  )
}

const boxOf = (query: string): DOMRect | undefined => document.querySelector(query)?.getBoundingClientRect()
const inside = (inner: DOMRect | undefined, outer: DOMRect | undefined): inner is DOMRect =>
  inner !== undefined && outer !== undefined && inner.bottom > outer.top && inner.top < outer.bottom
const middle = ({ left, right }: DOMRect): number => (left + right) / 2

/** How far the thread is seen where it comes out of a band. */
const STUB = 8

function pathNow(): string {
  const [page, time, reason] = [boxOf("section.page .shown"), boxOf("section.time .shown"), boxOf("section.lowest")]
  const cartouche = boxOf("section.page .cartouche")
  const foot = boxOf("section.time .foot")
  const thread = [...document.querySelectorAll("section.time .thread-to-reason")].at(-1)?.getBoundingClientRect()
  const onPage = inside(cartouche, page) ? middle(cartouche) : undefined
  const inTime = inside(foot, time) ? middle(thread ?? foot) : undefined
  const parts: string[] = []
  const last = inTime ?? (time ? undefined : onPage)
  const middleOf = boxOf("main.bands")
  if (reason && middleOf && reason.top <= middleOf.bottom && last !== undefined)
    parts.push(`M${last},${reason.top - STUB}V${reason.top}`)
  // between two bands it keeps to the rule that parts them, whatever else stands under the staves
  const rule = boxOf("section.page")?.bottom
  if (rule !== undefined && time && onPage !== undefined && inside(foot, time))
    parts.push(`M${onPage},${rule - STUB}V${rule}H${foot.left}V${rule + STUB}`)
  return parts.join("")
}
