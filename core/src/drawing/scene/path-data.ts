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

/** The same for lines apart from each other: the first `count` numbers are x and y of their ends. */
export function writeStrokes(points: readonly number[], count: number, scale: number, data: TextBuffer): void {
  const [x0, y0, unit] = [points[0]!, points[1]!, scale * 100]
  let x = 0
  let y = 0
  for (let i = 0; i + 3 < count; i += 4) {
    const startX = Math.round((points[i]! - x0) * unit)
    const startY = Math.round((points[i + 1]! - y0) * unit)
    if (i > 0) data.letter(M)
    if (i > 0) data.hundredthsPair(startX - x, startY - y)
    x = Math.round((points[i + 2]! - x0) * unit)
    y = Math.round((points[i + 3]! - y0) * unit)
    writeLine(x - startX, y - startY, data)
  }
}

/** The same for rectangles: left, top, right, bottom of each. */
export function writeBoxData(points: readonly number[], scale: number, data: TextBuffer): void {
  const [x0, y0, unit] = [points[0]!, points[1]!, scale * 100]
  let [x, y] = [0, 0]
  for (let i = 0; i + 3 < points.length; i += 4) {
    const [left, top] = [Math.round((points[i]! - x0) * unit), Math.round((points[i + 1]! - y0) * unit)]
    const [right, bottom] = [Math.round((points[i + 2]! - x0) * unit), Math.round((points[i + 3]! - y0) * unit)]
    if (i > 0) data.letter(M)
    if (i > 0) data.hundredthsPair(left - x, top - y)
    writeLine(right - left, 0, data)
    writeLine(0, bottom - top, data)
    writeLine(left - right, 0, data)
    data.letter(Z)
    ;[x, y] = [left, top]
  }
}

function writeLine(dx: number, dy: number, data: TextBuffer): void {
  if (dx !== 0 && dy !== 0) {
    data.letter(L)
    return data.hundredthsPair(dx, dy)
  }
  data.letter(dy === 0 ? H : V)
  data.hundredths(dy === 0 ? dx : dy)
}

/** Letters of path data in ASCII. */
const BLANK = 32
const C = 99
const H = 104
const L = 108
const M = 109
const Q = 113
const V = 118
const Z = 122

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
        this.#data.letter(Z)
        this.#x = this.#startX
        this.#y = this.#startY
        return
      case "M":
        return this.moveBy(step[1], step[2])
      case "L":
        return this.line(step[1], step[2])
      case "Q":
        this.#data.letter(Q)
        this.#past(step[1], step[2])
        return this.#to(step[3], step[4])
      case "C":
        this.#data.letter(C)
        this.#past(step[1], step[2])
        this.#past(step[3], step[4])
        this.#to(step[5], step[6])
    }
  }

  moveBy(x: number, y: number): void {
    this.#data.letter(M)
    this.#to(x, y)
    this.#startX = this.#x
    this.#startY = this.#y
  }

  line(x: number, y: number): void {
    const [h, v] = [this.#h(x), this.#v(y)]
    writeLine(h - this.#x, v - this.#y, this.#data)
    this.#x = h
    this.#y = v
  }

  #h(x: number): number {
    return Math.round((x - this.#x0) * this.#scale)
  }
  #v(y: number): number {
    return Math.round((y - this.#y0) * this.#scale)
  }
  /** A point that a curve bends towards. */
  #past(x: number, y: number): void {
    this.#data.hundredthsPair(this.#h(x) - this.#x, this.#v(y) - this.#y)
    this.#data.letter(BLANK)
  }
  #to(x: number, y: number): void {
    const [h, v] = [this.#h(x), this.#v(y)]
    this.#data.hundredthsPair(h - this.#x, v - this.#y)
    this.#x = h
    this.#y = v
  }
}
