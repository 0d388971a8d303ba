/** The presenter's view: which sheet is shown, and how many of its steps. */
import type { SignId } from "@resolutio/core"
import { createStore } from "zustand/vanilla"
import type { LectureTold, LectureWanted } from "../reading/messages.js"
import type { Readings } from "../reading/readings.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"

export interface Presented {
  readonly view: LectureWanted["view"]
  readonly zoom: number
  /** All steps of a sheet at once. */
  readonly whole: boolean
  /** Of the wall, in px. */
  readonly room: readonly [width: number, height: number]
  readonly told?: LectureTold | undefined
  /** Layers of the sheet that are shown. */
  readonly shown: number
  /** How one goes on need not be told any more. */
  readonly moved: boolean
  readonly failed?: string | undefined
}

export const presented = createStore<Presented>(() => ({
  view: "time",
  zoom: 1,
  whole: false,
  room: [0, 0],
  shown: 1,
  moved: false,
}))

const ZOOMS = [0.75, 0.9, 1, 1.2, 1.5, 1.8, 2.2]

/** In which step each layer appears, in the order of steps. */
export const stepsOf = ({ told }: Pick<Presented, "told">): number[] =>
  (told?.layers ?? []).map(({ step }): number => step).sort((a, b) => a - b)

/** What the step that is shown is called. The names stand in the order of steps. */
export const stepName = (now: Presented): string =>
  Object.values(words.presenting.steps)[(stepsOf(now)[now.shown - 1] ?? 1) - 1]!

export class Presenter {
  /** Keys that come faster than sheets are answered one after the other. */
  #last: Promise<void> = Promise.resolve()

  constructor(private readonly readings: Readings) {}

  begin(): void {
    const { selected } = view.getState()
    presented.setState({ view: "time", shown: 1, moved: false, told: undefined })
    view.setState({ presenting: true, sheet: undefined, writing: undefined })
    if (presented.getState().room[0] > 0) this.#go(() => this.#load({ sign: selected }, 1))
    document.documentElement.requestFullscreen?.().catch(() => undefined)
  }
  end(): void {
    view.setState({ presenting: false })
    if (document.fullscreenElement) void document.exitFullscreen()
  }

  /** The wall has another size. */
  resize(width: number, height: number): void {
    const [oldWidth, oldHeight] = presented.getState().room
    if (width === oldWidth && height === oldHeight) return
    presented.setState({ room: [width, height] })
    this.#go(() => {
      const { told, shown } = presented.getState()
      return this.#load(told ? { sheet: told.sheet } : { sign: view.getState().selected }, shown)
    })
  }

  onward(): void {
    presented.setState({ moved: true })
    this.#go(() => {
      const { told, shown, whole } = presented.getState()
      if (!told) return undefined
      if (!whole && shown < told.layers.length) return presented.setState({ shown: shown + 1 })
      return told.sheet + 1 < told.sheets ? this.#load({ sheet: told.sheet + 1 }, 1) : undefined
    })
  }
  backward(): void {
    this.#go(() => {
      const { told, shown, whole } = presented.getState()
      if (!told) return undefined
      if (!whole && shown > 1) return presented.setState({ shown: shown - 1 })
      return told.sheet > 0 ? this.#load({ sheet: told.sheet - 1 }, Infinity) : undefined
    })
  }
  /** To another sheet, -1 being the last. */
  toSheet(number: (now: LectureTold) => number): void {
    this.#go(() => {
      const { told } = presented.getState()
      const wanted = told && number(told)
      return told && wanted !== undefined && wanted < told.sheets ? this.#load({ sheet: wanted }, 1) : undefined
    })
  }
  turnWhole(): void {
    this.#go(() => {
      const { whole, told } = presented.getState()
      presented.setState({ whole: !whole, shown: whole ? 1 : (told?.layers.length ?? 1) })
    })
  }
  zoomBy(by: 1 | -1): void {
    const { zoom } = presented.getState()
    const next = ZOOMS[ZOOMS.indexOf(zoom) + by]
    if (next === undefined) return
    presented.setState({ zoom: next })
    this.#go(() => this.#load({ sheet: 0 }, 1))
  }
  show(which: Presented["view"]): void {
    presented.setState({ view: which })
    this.#go(() => this.#load({ sign: view.getState().selected }, 1))
  }

  /** To the sheet on which the sign sounds; the steps that are shown stay shown. */
  follow(sign: SignId): void {
    this.#go(() => {
      const { told, whole, shown } = presented.getState()
      return told && this.#load({ sign }, whole ? Infinity : Math.max(shown, 1))
    })
  }

  #go(step: () => Promise<void> | void | undefined): void {
    this.#last = this.#last.then(step).catch((error: unknown) => {
      presented.setState({ failed: error instanceof Error ? error.message : String(error) })
    })
  }

  async #load(which: { sheet?: number; sign?: LectureWanted["sign"] | undefined }, shown: number): Promise<void> {
    const { view: asked, zoom, whole, room } = presented.getState()
    const { sheet, sign } = which
    const told = await this.readings.lecture({
      view: asked,
      zoom,
      width: room[0],
      height: room[1],
      ...(sheet === undefined ? {} : { sheet }),
      ...(sign === undefined ? {} : { sign }),
    })
    presented.setState({ told, shown: Math.min(whole ? Infinity : shown, told.layers.length) })
  }
}
