/** The time view as the desk draws it: laid out once for a reading, written as SVG only where it is seen. */
import { askedOver, layTime, svgOf, type LaidTime, type SignId, type TimeInput } from "@resolutio/core"
import { SHOWN } from "../look/theme.js"
import type { AskedMark, SystemPlace, TimeWanted } from "./messages.js"

export interface LaidPlaces {
  readonly width: number
  readonly height: number
  readonly margin: number
  readonly systems: readonly SystemPlace[]
  readonly description: string
}

/** A system of a layout; the same object as long as nothing in it changes. */
type System = LaidTime["systems"][number]["system"]

export class TimeDrawing {
  #input: TimeInput | undefined
  #wanted: TimeWanted | undefined
  laid: LaidTime | undefined
  /** What the window has, by number of the system. */
  #told = new Map<number, System>()
  #fresh = false

  /** Undefined where what was laid still holds. */
  lay(input: TimeInput, wanted: TimeWanted): LaidPlaces | undefined {
    const same = this.#input?.score === input.score && this.#input.page === input.page
    if (same && this.#wanted && sameLook(this.#wanted, wanted)) return undefined
    const { width, size, compact } = wanted
    this.#fresh ||= !this.#wanted || !sameLook(this.#wanted, wanted)
    this.#input = input
    this.#wanted = wanted
    this.laid = layTime(input, { width, size, compact, lanes: true }, this.laid)
    return placesOf(this.laid)
  }

  /** Those of the systems asked for that the window does not have. */
  systems([first, last]: TimeWanted["see"]): { svg: (readonly [number, string])[]; all: boolean } {
    const all = this.#fresh
    if (all) this.#told.clear()
    this.#fresh = false
    const svg: (readonly [number, string])[] = []
    const systems = this.laid?.systems ?? []
    for (let i = Math.max(0, first); i <= Math.min(last, systems.length - 1); i++) {
      const { system } = systems[i]!
      if (this.#told.get(i) === system) continue
      this.#told.set(i, system)
      svg.push([i, written(system)])
    }
    return { svg, all }
  }
}

/** A system is written once, wherever it comes to stand. */
const known = new WeakMap<System, string>()
function written(system: System): string {
  const old = known.get(system)
  if (old !== undefined) return old
  const svg = svgOf([system.group], {}, { theme: SHOWN })
  known.set(system, svg)
  return svg
}

const sameLook = (a: TimeWanted, b: TimeWanted): boolean =>
  a.width === b.width && a.size === b.size && a.compact === b.compact

/** The title stands over the window already: the picture begins with its first system. */
function placesOf({ width, height, description, systems, look }: LaidTime): LaidPlaces {
  const head = systems[0]?.top ?? 0
  return {
    width,
    height: height - head,
    margin: look.margin,
    systems: systems.map(({ top, height, axis, system }) => ({
      top: top - head,
      height,
      from: axis.from,
      to: axis.to,
      left: axis.left,
      scale: axis.scale,
      axisY: system.axisY,
    })),
    description,
  }
}

/** Cartouche, foot and causes of a sign, in px of its system. */
export function askedMarks(laid: LaidTime | undefined, sign: SignId): AskedMark[] {
  if (!laid) return []
  return laid.systems.flatMap((system, i) => {
    // the thread goes down in the white between voices, to the foot of the system
    const marks = askedOver({ ...laid, systems: [system] }, sign, system.top + system.height)
    return marks.map(group => ({ system: i, svg: svgOf([{ ...group, y: 0 }], {}, { theme: SHOWN }) }))
  })
}
