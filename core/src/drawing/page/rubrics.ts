/** Words over the staff: rubrics, remarks, levels in words. They take no room on it and never reach beyond the line. */
import { ASCENT, DESCENT, textWidth } from "../text/width.js"
import type { TextMark } from "../scene/scene.js"
import type { SetCell } from "./set-line.js"

/** Least ground between two of them on one row. */
const APART = 0.8

interface Standing {
  readonly mark: TextMark
  readonly row: number
}

/** Above everything on the staff, which reaches up to `top`; as near to it as there is room, each begins over its sign where it can. */
export function rubrics(row: readonly SetCell[], top: number, left: number, right: number): TextMark[] {
  const rows = new Rows(left, right)
  for (const { cell, x } of row) for (const mark of cell.above) rows.put(mark, x)
  return rows.at(top - 0.1)
}

class Rows {
  readonly #left: number
  readonly #right: number
  /** Where each row is free again; the first is next to the staff. */
  readonly #free: number[] = []
  readonly #standing: Standing[] = []

  constructor(left: number, right: number) {
    this.#left = left
    this.#right = right
  }

  put(mark: TextMark, x: number): void {
    const room = this.#right - this.#left
    const lines = wrapped(mark, room)
    const [only] = lines
    if (lines.length > 1) return this.#putAll(lines)
    const { length = 0 } = only!
    const latest = Math.max(this.#left, this.#right - length)
    let row = this.#free.findIndex(free => Math.max(free, Math.min(x, latest)) <= latest + 1e-9)
    if (row < 0) row = this.#free.push(-Infinity) - 1
    this.#stand(only!, row, Math.max(this.#free[row]!, Math.min(x, latest)))
  }

  /** Words longer than the line take rows of their own, the first uppermost. */
  #putAll(lines: readonly TextMark[]): void {
    const first = this.#free.length + lines.length - 1
    for (const _ of lines) this.#free.push(Infinity)
    lines.forEach((line, i) => this.#stand(line, first - i, this.#left))
  }

  #stand(mark: TextMark, row: number, x: number): void {
    this.#standing.push({ mark: { ...mark, x }, row })
    this.#free[row] = Math.max(this.#free[row]!, x + (mark.length ?? 0) + APART)
  }

  /** With their heights, the lowest row ending at y. */
  at(y: number): TextMark[] {
    let foot = y
    const feet = this.#free.map((_, row) => {
      const types = this.#standing.filter(one => one.row === row).map(({ mark }) => mark.type)
      const own = foot - Math.max(...types.map(({ family, size }) => DESCENT[family] * size))
      foot = own - Math.max(...types.map(({ family, size }) => ASCENT[family] * size))
      return own
    })
    return this.#standing.map(({ mark, row }) => ({ ...mark, y: feet[row]! }))
  }
}

/** In lines no wider than the room; a single word that is too wide is pressed together. */
function wrapped(mark: TextMark, room: number): TextMark[] {
  const whole = textWidth(mark.text, mark.type)
  if (whole <= room) return [{ ...mark, length: whole }]
  const lines: string[] = []
  for (const word of mark.text.split(" ")) {
    const longer = lines.length === 0 ? word : `${lines.at(-1)} ${word}`
    if (lines.length > 0 && textWidth(longer, mark.type) <= room) lines[lines.length - 1] = longer
    else lines.push(word)
  }
  return lines.map(text => ({ ...mark, text, length: Math.min(room, textWidth(text, mark.type)) }))
}
