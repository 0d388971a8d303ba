import type { SignId } from "@resolutio/core"
import { useEffect, useMemo, useRef, useState } from "react"
import { useApp, useReading, useView } from "../../app.js"
import { words } from "../../words/index.js"
import { writeAt } from "../../acts/writing.js"
import { chosenIn } from "../../view/chosen.js"
import { select } from "../../view/view.js"
import { useSize } from "../../parts/use-size.js"
import { Music } from "../music.js"
import { PageLayout, type LaidVoice } from "./layout.js"
import { Staves } from "./staves.js"
import { TextBeside } from "./text-beside.js"
import { WritingLine } from "./writing-line.js"

/** Px in a staff space at zoom 1. */
const SPACE = 9

/** Staff spaces on either side of a drawn page; they lie outside the band. */
const MARGIN = 3

/** The signs as they stand, voice after voice. */
export function PageBand() {
  const page = useReading(state => state.page)
  const zoom = useView(state => state.zoom.page)
  const selected = useView(state => state.selected)
  const anchor = useView(state => state.anchor)
  const isWriting = useView(state => state.writing !== undefined)
  const hasText = useView(state => state.text === true)
  const app = useApp()
  const chosen = useMemo(() => chosenIn(page, { selected, anchor }), [page, selected, anchor])
  const [scroll, width, height] = useSize<HTMLDivElement>()
  const [layout] = useState(() => new PageLayout())
  const voices = useMemo(
    () => (width > 0 ? layout.lay(page, { width: width + 2 * MARGIN * SPACE * zoom, unit: SPACE * zoom }) : []),
    [layout, page, width, zoom],
  )
  const window = useWindow(scroll, height)
  useShown(scroll, voices, selected)
  const point = (x: number, y: number): void => {
    const box = scroll.current?.getBoundingClientRect()
    if (!box) return
    const [left, top] = [x - box.left, y - box.top + scroll.current!.scrollTop]
    const sign = layout.signAt(voices, left, top)
    const spot = isWriting && sign === undefined ? layout.spotAt(voices, left, top) : undefined
    if (sign) select(sign)
    else if (spot) writeAt(app, spot)
  }
  return (
    <div className={hasText ? "page-parts with-text" : "page-parts"}>
      {isWriting && <WritingLine />}
      <Music name={words.bands.page.name} description={words.bands.page.folded} scroll={scroll} onPoint={point}>
        {voices.map(voice => (
          <Staves key={voice.voice} voice={voice} window={window} chosen={chosen} />
        ))}
      </Music>
      {hasText && <TextBeside />}
    </div>
  )
}

export interface Window {
  readonly from: number
  readonly to: number
}
/** Parts are drawn a little before they are seen. */
const AHEAD = 500
/** The part of a scrolled picture that is seen, in steps, so that not every pixel makes it another. */
function useWindow(scroll: { readonly current: HTMLDivElement | null }, height: number): Window {
  const [top, setTop] = useState(0)
  useEffect(() => {
    const element = scroll.current
    const see = (): void => setTop(Math.floor((element?.scrollTop ?? 0) / 200) * 200)
    element?.addEventListener("scroll", see, { passive: true })
    return () => element?.removeEventListener("scroll", see)
  }, [scroll])
  const tall = Math.max(height, 0)
  return useMemo(() => ({ from: top - AHEAD, to: top + tall + AHEAD + 200 }), [top, tall])
}

/** Scrolls so far that the sign is seen with its line. */
function useShown(
  scroll: { readonly current: HTMLDivElement | null },
  voices: readonly LaidVoice[],
  selected: SignId | undefined,
): void {
  const last = useRef<SignId | undefined>(undefined)
  useEffect(() => {
    const element = scroll.current
    if (!element || selected === undefined || last.current === selected) return
    const voice = voices.find(one => one.places.signs.has(selected))
    const box = voice?.places.signs.get(selected)?.boxes[0]
    if (!voice || !box) return
    last.current = selected
    const line = voice.places.lines.find(one => box.top < one.box.bottom && box.bottom > one.box.top)?.box ?? box
    const [top, bottom] = [voice.top + line.top - 12, voice.top + line.bottom + 12]
    if (top < element.scrollTop) element.scrollTop = top
    else if (bottom > element.scrollTop + element.clientHeight)
      element.scrollTop = Math.min(top, bottom - element.clientHeight)
  }, [scroll, voices, selected])
}
