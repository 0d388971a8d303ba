import { scoreId, type SignId } from "@resolutio/core"
import { useEffect, useLayoutEffect, useRef, useState, type RefObject } from "react"
import { useStore } from "zustand"
import { useApp, useReading, useView } from "../../app.js"
import { flatOf } from "../../document/index-signs.js"
import type { EngravedDrawing } from "../../engraving/engraver.js"
import { showDrawing } from "../../parts/trusted.js"
import { useSize } from "../../parts/use-size.js"
import { sound } from "../../sound/player.js"
import { select } from "../../view/view.js"
import { words } from "../../words/index.js"
import { Music } from "../music.js"

const said = words.bands.edition

/** The modern score, drawn by the engraver once the voices have been read together. */
export function EditionBand() {
  const [scroll, width] = useSize<HTMLDivElement>()
  const zoom = useView(state => state.zoom.edition)
  const { drawing, told } = useEdition(width, zoom)
  const svg = useRef<SVGGElement>(null)
  const find = useScoreIds()
  useLayoutEffect(() => {
    if (svg.current && drawing) showDrawing(svg.current, drawing.svg)
  }, [drawing])
  const point = (x: number, y: number): void => {
    const note = document.elementFromPoint(x, y)?.closest("[data-score]")
    const sign = note && find(note)
    if (sign) select(sign)
  }
  return (
    <Music name={said.name} description={told ?? said.folded} scroll={scroll} onPoint={point}>
      {told !== undefined && <p className="quiet">{told}</p>}
      {drawing && (
        <svg
          className="engraved"
          width={drawing.width * zoom * SCALE}
          height={drawing.height * zoom * SCALE}
          viewBox={`0 0 ${drawing.width} ${drawing.height}`}
          aria-hidden="true"
        >
          <g ref={svg} />
          <Cartouches drawing={drawing} inside={svg} scroll={scroll} />
          <Wedges drawing={drawing} inside={svg} scroll={scroll} />
        </svg>
      )}
    </Music>
  )
}

/** A staff space of the engraver has 7.2 px; so much larger it is at zoom 1. */
const SCALE = 1.1
/** Tenths of a millimetre in one of its px. */
const TENTHS = 2.5

/** The drawing for what was read last; until it is there, the one before. */
function useEdition(width: number, zoom: number): { drawing: EngravedDrawing | undefined; told: string | undefined } {
  const { readings, engraver } = useApp()
  const read = useReading(state => state.settled)
  const accidentals = useView(state => state.accidentals)
  const [drawing, setDrawing] = useState<EngravedDrawing>()
  const [told, setTold] = useState<string | undefined>(said.loading)
  useEffect(() => {
    if (width === 0 || read < 0) return undefined
    let stale = false
    const draw = async (): Promise<void> => {
      const modern = await readings.modern(accidentals)
      if (stale) return
      if (!modern.ok) return setTold(said.none(modern.why))
      const drawn = await engraver.engrave(modern.mei, Math.round((width / (zoom * SCALE)) * TENTHS))
      if (stale) return
      setDrawing(drawn)
      setTold(undefined)
    }
    draw().catch(
      (error: unknown) => !stale && setTold(said.none(error instanceof Error ? error.message : String(error))),
    )
    return () => {
      stale = true
    }
  }, [readings, engraver, read, width, zoom, accidentals])
  return { drawing, told }
}

/** From an element of the score, or of a part of a note that was split, to the sign of the page. */
function useScoreIds(): (element: Element) => SignId | undefined {
  const page = useReading(state => state.page)
  return element => {
    for (let one: Element | null = element; one; one = one.parentElement?.closest("[data-score]") ?? null) {
      const id = one.getAttribute("data-score")?.replace(/\.(part\d+|plica)$/, "")
      for (const voice of page.voices) for (const { sign } of flatOf(voice)) if (scoreId(sign.id) === id) return sign.id
    }
    return undefined
  }
}

interface OverDrawing {
  readonly drawing: EngravedDrawing
  readonly inside: RefObject<SVGGElement | null>
  readonly scroll: RefObject<HTMLDivElement | null>
}

/** Over each sign that sounds; the system in which they stand is kept in sight. */
function Wedges({ drawing, inside, scroll }: OverDrawing) {
  const sounding = useStore(sound, state => state.sounding)
  const [tips, setTips] = useState<readonly (readonly [x: number, y: number])[]>([])
  useEffect(() => {
    const parts = sounding.flatMap(sign => partsOf(inside.current, scoreId(sign))[0] ?? [])
    setTips(parts.map(boxIn).map(({ x, y, width }) => [x + width / 2, y - 4]))
    const [element, first] = [scroll.current, parts[0]?.getBoundingClientRect()]
    const seen = element?.getBoundingClientRect()
    if (element && first && seen && (first.top < seen.top || first.bottom > seen.bottom))
      element.scrollTop += first.top - seen.top - seen.height / 3
  }, [drawing, inside, scroll, sounding])
  return tips.map(([x, y]) => (
    <path key={`${x} ${y}`} className="wedge" d={`M${x} ${y}l-5 -10h10z`} fill="var(--ink)" />
  ))
}

/** Round every part of the selected sign. */
function Cartouches({ drawing, inside, scroll }: OverDrawing) {
  const selected = useView(state => state.selected)
  const [boxes, setBoxes] = useState<readonly DOMRect[]>([])
  useEffect(() => {
    const parts = selected === undefined ? [] : partsOf(inside.current, scoreId(selected))
    setBoxes(parts.map(boxIn))
    const element = scroll.current
    const first = parts[0]?.getBoundingClientRect()
    const seen = element?.getBoundingClientRect()
    if (element && first && seen && (first.top < seen.top || first.bottom > seen.bottom))
      element.scrollTop += first.top - seen.top - seen.height / 3
  }, [drawing, inside, scroll, selected])
  return (
    <g className="asked-mark">
      {boxes.map(({ x, y, width, height }, i) => (
        <rect
          key={i}
          className="cartouche"
          x={x - 3}
          y={y - 3}
          width={width + 6}
          height={height + 6}
          fill="none"
          stroke="var(--blue)"
          strokeWidth="1.6"
        />
      ))}
    </g>
  )
}

/** Heads of the note, or the rest; the stem and the words are not framed. */
function partsOf(drawing: Element | null, id: string): SVGGraphicsElement[] {
  const own = [...(drawing?.querySelectorAll<SVGGraphicsElement>("[data-score]") ?? [])].filter(one => {
    const name = one.getAttribute("data-score") ?? ""
    return name === id || name.startsWith(`${id}.part`)
  })
  return own.map(one => one.querySelector<SVGGraphicsElement>(".notehead") ?? one)
}

/** In the units of the whole drawing. */
function boxIn(element: SVGGraphicsElement): DOMRect {
  const box = element.getBBox()
  const own = element.getCTM()
  const outer = element.ownerSVGElement?.getCTM()
  if (!own || !outer) return box
  const to = outer.inverse().multiply(own)
  const [a, b] = [new DOMPoint(box.x, box.y), new DOMPoint(box.x + box.width, box.y + box.height)].map(point =>
    point.matrixTransform(to),
  )
  return new DOMRect(a!.x, a!.y, b!.x - a!.x, b!.y - a!.y)
}
