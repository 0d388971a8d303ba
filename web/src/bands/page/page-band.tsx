import type { SignId } from "@resolutio/core"
import { useEffect, useMemo, useRef, useState } from "react"
import { useStore } from "zustand"
import { useApp, useReading, useView } from "../../app.js"
import { voiceOf } from "../../document/index-signs.js"
import { words } from "../../words/index.js"
import { writeAt } from "../../acts/pen.js"
import { sound } from "../../sound/player.js"
import { chosenIn } from "../../view/chosen.js"
import { select } from "../../view/view.js"
import { afterPaint } from "../../parts/after-paint.js"
import { later } from "../../parts/later.js"
import { useSize } from "../../parts/use-size.js"
import { Music } from "../music.js"
import { PageLayout, placeOf, signAtPoint, spotAtPoint, type LaidVoice } from "./layout.js"
import { Staves } from "./staves.js"
import { useSeen } from "./use-seen.js"

const WritingLine = later(() => import("./writing-line.js").then(one => one.WritingLine))
const TextBeside = later(() => import("./text-beside.js").then(one => one.TextBeside))
const PhotographBeside = later(() => import("../../photographs/photograph-beside.js").then(one => one.PhotographBeside))

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
  const photograph = useView(state => state.photograph && (state.photograph.under ? "under" : "beside"))
  const sounding = useStore(sound, state => state.sounding)
  const app = useApp()
  const chosen = useMemo(() => chosenIn(page, { selected, anchor }), [page, selected, anchor])
  const causes = useMemo(
    () => (selected === undefined ? NONE : (app.readings.ownTold(selected)?.because.map(({ sign }) => sign) ?? NONE)),
    // the page is that of the readings
    [app, page, selected],
  )
  const asked = selected === undefined ? undefined : voiceOf(page, selected)?.id
  const [scroll, width, height] = useSize<HTMLDivElement>()
  const [layout] = useState(() => new PageLayout())
  const voices = useMemo(() => {
    const unit = SPACE * zoom
    return width > 0 ? layout.lay(page, { width: width + 2 * MARGIN * unit, unit }) : []
  }, [layout, page, width, zoom])
  const seen = useSeen(scroll, height)
  useShown(scroll, voices, selected)
  const point = (x: number, y: number): void => {
    const element = scroll.current
    const box = element?.getBoundingClientRect()
    if (!element || !box) return
    const [left, top] = [x - box.left, y - box.top + element.scrollTop]
    const sign = signAtPoint(voices, left, top)
    const spot = isWriting && sign === undefined ? spotAtPoint(voices, left, top) : undefined
    if (sign) select(sign)
    else if (spot) writeAt(app, spot)
  }
  return (
    <div className={["page-parts", hasText && "with-text", photograph].filter(Boolean).join(" ")}>
      {isWriting && <WritingLine />}
      <Music name={words.bands.page.name} description={words.bands.page.folded} scroll={scroll} onPoint={point}>
        {voices.map(voice => (
          <Staves
            key={voice.voice}
            voice={voice}
            seen={seen}
            chosen={voice.voice === asked ? chosen : NONE}
            sounding={sounding}
            causes={voice.voice === asked ? causes : NONE}
          />
        ))}
      </Music>
      {hasText && <TextBeside />}
      {photograph && <PhotographBeside />}
    </div>
  )
}

const NONE: readonly SignId[] = []

/** Room over a sign that is scrolled to, in px. */
const ROOM = 36
/** Staff spaces under a staff: its words stand there. */
const WORDS = 3

/** Scrolls so far that the sign is seen with its line. */
function useShown(
  scroll: { readonly current: HTMLDivElement | null },
  voices: readonly LaidVoice[],
  selected: SignId | undefined,
): void {
  const last = useRef<SignId | undefined>(undefined)
  useEffect(() => {
    if (selected === undefined || last.current === selected) return undefined
    const place = placeOf(voices, selected)
    if (!place) return undefined
    return afterPaint(() => {
      last.current = selected
      const element = scroll.current
      if (!element) return
      const { voice, line, box } = place
      // the bottom line of a staff is where its line of music is laid from
      const words = voice.top + line.y + WORDS * voice.unit
      const [top, bottom] = [box.top - ROOM, Math.max(box.bottom + 8, words)]
      if (top < element.scrollTop) element.scrollTop = top
      else if (bottom > element.scrollTop + element.clientHeight) element.scrollTop = bottom - element.clientHeight
    })
  }, [scroll, voices, selected])
}
