/** Outlines as SVG's path data. */
import type { Path, PathStep } from "./scene.js"
import { TextBuffer } from "./text-buffer.js"

/** "M1,2l3,4z": an outline moved and scaled. All points but the first are told from the one before. */
export function pathData(path: Path, x = 0, y = 0, scale = 1): string {
  const data = new TextBuffer()
  const [first] = path
  if (first?.[0] !== "M") return ""
  data.text("M")
  data.number(x + first[1] * scale)
  data.text(",")
  data.number(y + first[2] * scale)
  writeBareData(path, scale, data)
  return data.finish()
}

/**
 * All of an outline but the place of its first point, each point told from the one before: the same wherever it stands. Points
 * lie on hundredths counted from the first, so that no error adds up.
 */
export function writeBareData(path: Path, scale: number, data: TextBuffer): void {
  const [first] = path
  if (first?.[0] !== "M") return
  const steps = new RelativeSteps(first[1], first[2], scale * 100, data)
  for (let i = 1; i < path.length; i++) steps.write(path[i]!)
}

/** The same for lines apart from each other. */
export function writeStrokes(points: readonly number[], scale: number, data: TextBuffer): void {
  const steps = new RelativeSteps(points[0]!, points[1]!, scale * 100, data)
  for (let i = 0; i + 3 < points.length; i += 4) {
    if (i > 0) steps.moveBy(points[i]!, points[i + 1]!)
    steps.line(points[i + 2]!, points[i + 3]!)
  }
}

class RelativeSteps {
  readonly #data: TextBuffer
  readonly #x0: number
  readonly #y0: number
  readonly #scale: number
  #x = 0
  #y = 0
  /** Where the outline in hand began: there a closed one ends. */
  #startX = 0
  #startY = 0

  constructor(x0: number, y0: number, scale: number, data: TextBuffer) {
    this.#data = data
    this.#x0 = x0
    this.#y0 = y0
    this.#scale = scale
  }

  write(step: PathStep): void {
    switch (step[0]) {
      case "Z":
        this.#data.text("z")
        this.#x = this.#startX
        this.#y = this.#startY
        return
      case "M":
        this.moveBy(step[1], step[2])
        return
      case "L":
        this.line(step[1], step[2])
        return
      case "Q":
        this.#data.text("q")
        this.#pair(step[1], step[2])
        this.#data.text(" ")
        this.#pair(step[3], step[4])
        this.#moveTo(step[3], step[4])
        return
      case "C":
        this.#data.text("c")
        this.#pair(step[1], step[2])
        this.#data.text(" ")
        this.#pair(step[3], step[4])
        this.#data.text(" ")
        this.#pair(step[5], step[6])
        this.#moveTo(step[5], step[6])
    }
  }

  moveBy(x: number, y: number): void {
    this.#data.text("m")
    this.#pair(x, y)
    this.#moveTo(x, y)
    this.#startX = this.#x
    this.#startY = this.#y
  }

  line(x: number, y: number): void {
    const dx = this.#h(x) - this.#x
    const dy = this.#v(y) - this.#y
    this.#moveTo(x, y)
    this.#data.text(dy === 0 ? "h" : dx === 0 ? "v" : "l")
    if (dy === 0 || dx !== 0) this.#data.hundredths(dx)
    if (dy === 0) return
    if (dx !== 0) this.#data.text(",")
    this.#data.hundredths(dy)
  }

  #h(x: number): number {
    return Math.round((x - this.#x0) * this.#scale)
  }
  #v(y: number): number {
    return Math.round((y - this.#y0) * this.#scale)
  }
  #moveTo(x: number, y: number): void {
    this.#x = this.#h(x)
    this.#y = this.#v(y)
  }
  #pair(x: number, y: number): void {
    this.#data.hundredths(this.#h(x) - this.#x)
    this.#data.text(",")
    this.#data.hundredths(this.#v(y) - this.#y)
  }
}
