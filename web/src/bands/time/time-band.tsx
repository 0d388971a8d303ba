import type { SignId } from "@resolutio/core"
import { useEffect, useRef, useState } from "react"
import { useStore } from "zustand"
import { useApp, useReading, useView } from "../../app.js"
import type { AskedMark, SystemPlace, TimeWanted } from "../../reading/messages.js"
import type { TimeState } from "../../reading/readings.js"
import { Drawing } from "../../parts/drawing.js"
import { useSize } from "../../parts/use-size.js"
import { sound } from "../../sound/player.js"
import { select } from "../../view/view.js"
import { words } from "../../words/index.js"
import { Music } from "../music.js"

/** All voices over one axis of time, drawn by the reading desk. */
export function TimeBand() {
  const time = useReading(state => state.time)
  const systems = useReading(state => state.systems)
  const [scroll, width, height] = useSize<HTMLDivElement>()
  const seen = useWantedTime(scroll, width, height, time)
  const asked = useAsked(time)
  useSystemShown(scroll, time, asked)
  return (
    <Music
      name={words.bands.time.name}
      description={time?.description ?? words.bands.time.folded}
      scroll={scroll}
      onPoint={(x, y) => selectAt(scroll.current, x, y)}
    >
      <div className="systems" style={{ height: time?.height ?? 0 }}>
        {time?.systems.map((place, i) =>
          i >= seen[0] && i <= seen[1] && systems.has(i) ? (
            <svg
              key={i}
              style={{ top: place.top, insetInlineStart: -time.margin }}
              width={time.width}
              height={place.height}
              viewBox={`0 0 ${time.width} ${place.height}`}
              aria-hidden="true"
            >
              <Drawing svg={systems.get(i)!} />
              <Wedge place={place} />
              {asked.map(mark => mark.system === i && <Drawing key="asked" className="asked-mark" svg={mark.svg} />)}
            </svg>
          ) : null,
        )}
      </div>
    </Music>
  )
}

/** Where the sound is, on the axis; no line across the music. */
function Wedge({ place }: { readonly place: SystemPlace }) {
  const moment = useStore(sound, state => (state.phase === "silent" ? undefined : state.moment))
  if (moment === undefined || moment < place.from || moment >= place.to) return null
  const x = place.left + (moment - place.from) * place.scale
  const wide = WEDGE * place.axisY
  return (
    <path className="wedge" d={`M${x} ${place.axisY + 1}l${-wide} ${-1.8 * wide}h${2 * wide}z`} fill="var(--ink)" />
  )
}
/** Half its width, in heights of the axis under the top of its system. */
const WEDGE = 0.19

/** At this width and with this many px for each of the drawing's sizes a window is comfortably read. */
const USUAL = 0.75

/** Tells the desk how the view is wanted and which systems are seen. */
function useWantedTime(
  scroll: { readonly current: HTMLDivElement | null },
  width: number,
  height: number,
  time: TimeState | undefined,
): TimeWanted["see"] {
  const { readings } = useApp()
  const zoom = useView(state => state.zoom.time)
  const compact = useView(state => state.open.length > 1 && !state.alone)
  const [top, setTop] = useState(0)
  useEffect(() => {
    const element = scroll.current
    const look = (): void => setTop(Math.floor((element?.scrollTop ?? 0) / 100) * 100)
    element?.addEventListener("scroll", look, { passive: true })
    return () => element?.removeEventListener("scroll", look)
  }, [scroll])
  const see = seenOf(time?.systems ?? [], top, height)
  const [first, last] = see
  useEffect(() => {
    const size = USUAL * zoom
    if (width > 0) readings.wantTime({ width: withMargins(width, size), size, compact, see: [first, last] })
    // what is seen is told by itself below
  }, [readings, width, zoom, compact])
  useEffect(() => readings.seeTime([first, last]), [readings, first, last])
  useEffect(() => () => readings.wantTime(undefined), [readings])
  return see
}

/** The drawing's own margins (48 and 54 of its sizes, or a twentieth of a narrow picture) lie outside the band. */
const withMargins = (shown: number, size: number): number => {
  const width = shown - EDGE
  return Math.min(width + 102 * size, width / 0.9)
}
/** So far the band reaches into the window's margin: the last number of the axis stands half beyond its end. */
const EDGE = 16

/** One more above and below than are seen. */
function seenOf(systems: readonly SystemPlace[], top: number, height: number): TimeWanted["see"] {
  const first = systems.findIndex(one => one.top + one.height > top)
  const last = systems.findLastIndex(one => one.top < top + height + 100)
  return systems.length === 0 ? [0, 3] : [Math.max(0, first - 1), Math.max(0, last) + 1]
}

/** The marks over the selected sign. */
function useAsked(time: TimeState | undefined): readonly AskedMark[] {
  const { readings } = useApp()
  const selected = useView(state => state.selected)
  const [asked, setAsked] = useState<{ readonly of: SignId; readonly marks: readonly AskedMark[] }>()
  useEffect(() => {
    let stale = false
    if (selected !== undefined && time)
      void readings.asked(selected).then(marks => !stale && setAsked({ of: selected, marks }))
    return () => {
      stale = true
    }
  }, [readings, selected, time])
  return asked && asked.of === selected ? asked.marks : NONE
}
const NONE: readonly AskedMark[] = []

function useSystemShown(
  scroll: { readonly current: HTMLDivElement | null },
  time: TimeState | undefined,
  asked: readonly AskedMark[],
): void {
  const last = useRef<readonly AskedMark[]>(NONE)
  useEffect(() => {
    const element = scroll.current
    const place = asked[0] && time?.systems[asked[0].system]
    if (!element || !place || last.current === asked) return
    last.current = asked
    const { top, height } = place
    if (top < element.scrollTop || top + height > element.scrollTop + element.clientHeight) element.scrollTop = top
  }, [scroll, time, asked])
}

/** The sign whose marks are under the point, or nearest to it within reach. */
function selectAt(scroll: HTMLDivElement | null, x: number, y: number): void {
  const direct = document.elementFromPoint(x, y)?.closest("[data-sign]")
  const sign = direct?.getAttribute("data-sign") ?? nearest(scroll, x, y)
  if (sign) select(sign as SignId)
}

const REACH = 10
function nearest(scroll: HTMLDivElement | null, x: number, y: number): string | undefined {
  let best: { sign: string; far: number } | undefined
  for (const element of scroll?.querySelectorAll("[data-sign]") ?? []) {
    const { left, right, top, bottom } = element.getBoundingClientRect()
    const far = Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom))
    if (far <= REACH && (!best || far < best.far)) best = { sign: element.getAttribute("data-sign")!, far }
  }
  return best?.sign
}
