import type { Item } from "@resolutio/core"
import { memo, useLayoutEffect, useRef } from "react"
import { showDrawing } from "../../parts/trusted.js"
import type { DrawnCell, LineDrawing } from "./line-drawing.js"

/** A line of the page. Of another drawing of it only those signs are put in anew that are others; the rest is moved. */
export const LineShown = memo(function LineShown({
  drawing,
  x,
  y,
}: {
  readonly drawing: LineDrawing
  readonly x: number
  readonly y: number
}) {
  const ref = useRef<SVGGElement>(null)
  const inside = useRef<LineInside | undefined>(undefined)
  useLayoutEffect(() => {
    if (ref.current) (inside.current ??= new LineInside(ref.current)).show(drawing)
  }, [drawing])
  return <g ref={ref} transform={`translate(${x} ${y})`} />
})

/** What was put into the element. */
export class LineInside {
  #rest = ""
  #cells = new Map<Item, Element>()

  constructor(private readonly element: Element) {}

  show(drawing: LineDrawing): void {
    if (!drawing.cells.some(({ of }) => this.#cells.has(of))) return this.#begin(drawing)
    const [rest, cells] = this.element.children as unknown as [Element, Element]
    const { rest: svg } = drawing
    if (svg !== this.#rest) showDrawing(rest, svg)
    this.#rest = svg
    this.#follow(cells, drawing.cells)
  }

  /** All at once is quickest. */
  #begin(drawing: LineDrawing): void {
    if (this.#rest === drawing.rest && this.#cells.size === 0 && drawing.cells.length === 0) return
    this.#rest = drawing.rest
    const all = drawing.cells.map(({ svg, x }) => `<g transform="${moved(x)}">${svg}</g>`).join("")
    showDrawing(this.element, `<g>${this.#rest}</g><g>${all}</g>`)
    const { children } = this.element.children[1]!
    this.#cells = new Map(drawing.cells.map(({ of }, i) => [of, children[i]!]))
  }

  #follow(parent: Element, cells: readonly DrawnCell[]): void {
    const wanted = new Set(cells.map(({ of }) => of))
    for (const [of, element] of this.#cells) {
      if (wanted.has(of)) continue
      element.remove()
      this.#cells.delete(of)
    }
    let at = parent.firstElementChild
    for (const cell of cells) {
      const element = this.#cells.get(cell.of) ?? this.#made(cell)
      const place = moved(cell.x)
      if (element.getAttribute("transform") !== place) element.setAttribute("transform", place)
      if (element === at) at = at.nextElementSibling
      else parent.insertBefore(element, at)
    }
  }

  #made({ of, svg }: DrawnCell): Element {
    const element = document.createElementNS("http://www.w3.org/2000/svg", "g")
    showDrawing(element, svg)
    this.#cells.set(of, element)
    return element
  }
}

const moved = (x: number): string => `translate(${Math.round(x * 100) / 100})`
