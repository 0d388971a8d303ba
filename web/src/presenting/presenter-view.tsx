import { useEffect, useLayoutEffect, useRef, useState } from "react"
import type { SignId } from "@resolutio/core"
import { useStore } from "zustand"
import { useApp, useDocument } from "../app.js"
import { ActButton } from "../parts/act-button.js"
import { Drawing } from "../parts/drawing.js"
import { isWide } from "../parts/is-wide.js"
import { useSize } from "../parts/use-size.js"
import type { LectureTold } from "../reading/messages.js"
import { sound } from "../sound/player.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"
import { presented, stepName, stepsOf, type Presented, type Presenter } from "./presenter.js"

const said = words.presenting

/** The music and nothing else, as large as the wall. */
export function PresenterView() {
  const { presenter } = useApp()
  const now = useStore(presented)
  const heard = useStore(sound, ({ phase, share, failed }) =>
    phase === "making" ? words.listening.making(share) : phase === "silent" ? failed : undefined,
  )
  const title = useDocument(state => state.page.title) || words.untitled
  const [wall, width, height] = useSize<HTMLDivElement>()
  useEffect(() => {
    if (width > 0 && height > 0) presenter.resize(width, height)
  }, [presenter, width, height])
  const [byTouch] = useState(isByTouch)
  useLeaving()
  useLectureColours()
  return (
    <main className="presenter" aria-label={said.name}>
      <h1 className="heard">{title}</h1>
      {/* the same as the keys, which are told below */}
      <div ref={wall} className="wall" tabIndex={-1} onClick={({ clientX }) => leaf(presenter, clientX)}>
        {now.told && <Sheet now={now} />}
      </div>
      <p className="presenter-foot">
        <span className="rubric">{now.view === "time" && now.told ? stepName(now) : ""}</span>
        <span role="status" className="heard">
          {now.failed ?? (now.told ? said.where(placeOf(now), stepName(now)) : said.loading)}
        </span>
        <span className={now.moved && !now.failed && heard === undefined ? "quiet told-once" : "quiet"}>
          {now.failed ?? (now.told ? (heard ?? (byTouch ? "" : said.how)) : said.loading)}
        </span>
        <span className="quiet">{now.told && now.told.sheets > 1 ? placeOf(now) : ""}</span>
      </p>
      {byTouch && (
        <nav className="presenter-acts" aria-label={said.name}>
          <ActButton id="backward" say={said.touch.backward} />
          <ActButton id="onward" />
          <ActButton id="present-listen" />
          <ActButton id="leave" say={said.touch.leave} />
        </nav>
      )}
    </main>
  )
}

/** No keys are at hand: a finger, or a small window. */
const isByTouch = (): boolean => !isWide() || matchMedia("(pointer: coarse)").matches

/** A click leafs onward, on the left quarter of the wall back. */
function leaf(presenter: Presenter, x: number): void {
  if (x < innerWidth / 4) presenter.backward()
  else presenter.onward()
}

const placeOf = ({ told }: Presented): string => said.sheet((told?.sheet ?? 0) + 1, told?.sheets ?? 1)

/** All layers are there, those of later steps unseen: so nothing moves, and what comes can come softly. */
function Sheet({ now }: { readonly now: Presented }) {
  const { told, shown } = now
  const all = useRef<SVGGElement>(null)
  const [down, setDown] = useState(0)
  useLayoutEffect(() => {
    const box = all.current?.getBBox()
    if (box && told) setDown((told.height - box.height) / 2 - box.y)
  }, [told])
  if (!told) return null
  const steps = stepsOf(now)
  const last = steps[shown - 1] ?? 5
  return (
    <svg viewBox={`0 0 ${told.width} ${told.height}`} width="100%" height="100%" aria-hidden="true">
      <g ref={all} transform={`translate(0 ${down})`}>
        {told.layers.map(({ step, svg }) => (
          <Drawing
            key={`${told.sheet} ${step}`}
            className={["lecture-step", step === 1 && "first-step", step > last && "coming"].filter(Boolean).join(" ")}
            svg={svg}
          />
        ))}
        <Wedges told={told} />
        <Moment told={told} />
      </g>
    </svg>
  )
}

/** Over each sign that sounds. Where it sounds elsewhere that sheet is shown. */
function Wedges({ told }: { readonly told: LectureTold }) {
  const { presenter } = useApp()
  const sounding = useStore(sound, state => (state.phase === "silent" ? NONE : state.sounding))
  const ref = useRef<SVGGElement>(null)
  const wanted = useRef<SignId | undefined>(undefined)
  const [path, setPath] = useState("")
  useLayoutEffect(() => {
    const boxes = sounding.flatMap(sign => {
      const found = ref.current?.parentElement?.querySelector<SVGGElement>(
        `.first-step [data-sign="${CSS.escape(sign)}"]`,
      )
      return found ? [found.getBBox()] : []
    })
    const size = WEDGE * told.unit
    const over = boxes.map(({ x, y, width }) => `M${x + width / 2} ${y - size / 2}l${-size / 2} ${-size}h${size}z`)
    setPath(over.join(""))
    const [first] = sounding
    if (first !== undefined && boxes.length === 0 && wanted.current !== first) presenter.follow(first)
    // once: there may be none that has it
    wanted.current = first
  }, [presenter, told, sounding])
  return (
    <g ref={ref}>
      <path className="wedge" d={path} fill="var(--ink)" />
    </g>
  )
}
/** Where the sound is: a wedge on the axis and strokes in the white between the voices, no line across the music. */
function Moment({ told }: { readonly told: LectureTold }) {
  const moment = useStore(sound, state => (state.phase === "silent" ? undefined : state.moment))
  const axis = moment === undefined ? undefined : told.axes.find(one => moment >= one.from && moment < one.to)
  if (moment === undefined || !axis) return null
  const x = axis.left + (moment - axis.from) * axis.scale
  const wide = (10 * told.unit) / STAFF_SPACE
  const strokes = axis.gaps.map(([top, bottom]) => `M${x} ${top}V${bottom}`)
  return (
    <g className="moment">
      <path className="wedge" d={`M${x} ${axis.y + 1}l${-wide} ${-2 * wide}h${2 * wide}z`} fill="var(--ink)" />
      <path d={strokes.join("")} stroke="var(--ink)" strokeWidth={wide / 3} />
    </g>
  )
}
/** The time view's own, on a wall 1920 px wide. */
const STAFF_SPACE = 17

const NONE: readonly SignId[] = []
/** Staff spaces of its width and height. */
const WEDGE = 1.15

/** The browser's own way out of the full screen leaves the view too. */
function useLeaving(): void {
  const { presenter } = useApp()
  useEffect(() => {
    const look = (): void => {
      if (!document.fullscreenElement && view.getState().presenting) presenter.end()
    }
    document.addEventListener("fullscreenchange", look)
    return () => document.removeEventListener("fullscreenchange", look)
  }, [presenter])
}

/** A wall wants stronger colours than a screen at arm's length. */
function useLectureColours(): void {
  useEffect(() => {
    document.documentElement.dataset["lecture"] = ""
    return () => {
      delete document.documentElement.dataset["lecture"]
    }
  }, [])
}
