/// <reference lib="dom" />
/** The drawings in the page's script. Put into the page as it is, so nothing outside of it is used. */
import type { ShowData } from "./data.js"

/** A drawing that is shown, and what is put over it. */
export interface ShownView {
  readonly box: HTMLElement
  readonly svg: SVGSVGElement
  /** Whatever is drawn of each sign. */
  readonly parts: ReadonlyMap<string, readonly Element[]>
  readonly asked: SVGGElement
  readonly heard: SVGGElement
  readonly isTime: boolean
}
export interface ShownDrawings {
  readonly views: readonly ShownView[]
  readonly boxesOf: (view: ShownView, id: string, stretches?: boolean) => DOMRect[]
  readonly put: (layer: SVGGElement, name: string, attributes: Readonly<Record<string, string | number>>) => void
  readonly keepSeen: (view: ShownView, place: DOMRect) => void
  /** The sign at a point of the window, or near it. */
  readonly nearest: (box: Element, x: number, y: number, isKnown: (id: string) => boolean) => string | undefined
}

/** Runs in the page. */
export function showDrawings(data: ShowData): ShownDrawings {
  const svgNames = "http://www.w3.org/2000/svg"

  /** Of the sign as it is written: a canon draws it again under other names. */
  function idOf(element: Element): string {
    const id = element.getAttribute("data-sign") ?? ""
    return data.also[id] ?? id
  }

  // Drawings: each sign's place in it, and what is put over it.
  const views = [...document.querySelectorAll<HTMLElement>(".music")].map(box => {
    const svg = box.querySelector("svg")!
    const layer = (name: string): SVGGElement => {
      const group = document.createElementNS(svgNames, "g")
      group.setAttribute("class", name)
      // what is measured begins at the drawing's upper edge
      group.setAttribute("transform", `translate(0,${svg.viewBox.baseVal.y})`)
      svg.append(group)
      return group
    }
    const parts = new Map<string, Element[]>()
    for (const element of svg.querySelectorAll("[data-sign]")) {
      const id = idOf(element)
      parts.set(id, [...(parts.get(id) ?? []), element])
    }
    return { box, svg, parts, asked: layer("asked"), heard: layer("heard-now"), isTime: box.id === "time" }
  })
  /** Where the sign stands, in px of the drawing: once for each voice that sings it. Or its stretches of time. */
  function boxesOf({ svg, parts }: ShownView, id: string, stretches = false): DOMRect[] {
    const outer = svg.getBoundingClientRect()
    return (parts.get(id) ?? []).flatMap(part => {
      const name = part.getAttribute("class") ?? ""
      const isSign = !/^(duration|sleeve|syllable|gain|rival|modern|count|words)/.test(name)
      if (stretches ? name !== "duration" : !isSign) return []
      const { left, top, width, height } = part.getBoundingClientRect()
      return width + height > 0 ? [new DOMRect(left - outer.left, top - outer.top, width, height)] : []
    })
  }
  function put(layer: SVGGElement, name: string, attributes: Readonly<Record<string, string | number>>): void {
    const element = document.createElementNS(svgNames, name)
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value))
    layer.append(element)
  }

  /** Scrolls as little as shows the place over what lies at the foot of the window. */
  function keepSeen({ box, svg }: ShownView, place: DOMRect): void {
    const [own, foot] = [
      svg.getBoundingClientRect(),
      document.getElementById("reason")!.getBoundingClientRect().height + 24,
    ]
    if (place.x < box.scrollLeft + 24 || place.right > box.scrollLeft + box.clientWidth - 24)
      box.scrollLeft = place.x - box.clientWidth / 3
    if (document.activeElement !== box && document.activeElement !== document.body) return
    if (document.activeElement === document.body && box.id !== "time") return
    const [top, bottom] = [own.top + place.y - 40, own.top + place.bottom + 40]
    if (top < 0) scrollBy(0, top)
    else if (bottom > innerHeight - foot) scrollBy(0, bottom - innerHeight + foot)
  }
  function nearest(box: Element, x: number, y: number, isKnown: (id: string) => boolean): string | undefined {
    let best: { readonly id: string; readonly far: number } | undefined
    for (const element of box.querySelectorAll("[data-sign]")) {
      const id = idOf(element)
      const { left, right, top, bottom } = element.getBoundingClientRect()
      const far = Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom))
      if (isKnown(id) && far <= 12 && (!best || far < best.far)) best = { id, far }
    }
    return best?.id
  }
  return { views, boxesOf, put, keepSeen, nearest }
}
