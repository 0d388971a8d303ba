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

/** Where it stands is remembered: to ask the document for it at every key would cost more than to work it out. */
interface Shown {
  readonly element: Element
  x: number
}

/** What was put into the element. */
export class LineInside {
  #rest = ""
  #cells = new Map<string | Item, Shown>()

  constructor(private readonly element: Element) {}

  show(drawing: LineDrawing): void {
    const cells = named(drawing.cells)
    if (!cells.some(({ of }) => this.#cells.has(of))) return this.#begin(drawing.rest, cells)
    const [rest, parent] = this.element.children as unknown as [Element, Element]
    if (drawing.rest !== this.#rest) showDrawing(rest, drawing.rest)
    this.#rest = drawing.rest
    this.#follow(parent, cells)
  }

  /** All at once is quickest. */
  #begin(rest: string, cells: readonly DrawnCell[]): void {
    if (this.#rest === rest && this.#cells.size === 0 && cells.length === 0) return
    this.#rest = rest
    const all = cells.map(({ svg, x }) => `<g transform="${moved(x)}">${svg()}</g>`).join("")
    showDrawing(this.element, `<g>${rest}</g><g>${all}</g>`)
    const { children } = this.element.children[1]!
    this.#cells = new Map(cells.map(({ of, x }, i) => [of, { element: children[i]!, x }]))
  }

  #follow(parent: Element, cells: readonly DrawnCell[]): void {
    const wanted = new Set(cells.map(({ of }) => of))
    for (const [of, { element }] of this.#cells) {
      if (wanted.has(of)) continue
      element.remove()
      this.#cells.delete(of)
    }
    let at = parent.firstElementChild
    for (const cell of cells) {
      const shown = this.#cells.get(cell.of) ?? this.#made(cell)
      const { element } = shown
      if (shown.x !== cell.x) element.setAttribute("transform", moved(cell.x))
      shown.x = cell.x
      if (element === at) at = at.nextElementSibling
      else parent.insertBefore(element, at)
    }
  }

  #made({ of, svg, x }: DrawnCell): Shown {
    const element = document.createElementNS("http://www.w3.org/2000/svg", "g")
    element.setAttribute("transform", moved(x))
    showDrawing(element, svg())
    const shown = { element, x }
    this.#cells.set(of, shown)
    return shown
  }
}

/** Of several that look the same, such as hyphens, each has a name. */
function named(cells: readonly DrawnCell[]): readonly DrawnCell[] {
  const met = new Map<string, number>()
  return cells.map(cell => {
    if (typeof cell.of !== "string") return cell
    const before = met.get(cell.of) ?? 0
    met.set(cell.of, before + 1)
    return before === 0 ? cell : { ...cell, of: `${before} ${cell.of}` }
  })
}

const moved = (x: number): string => `translate(${Math.round(x * 100) / 100})`
