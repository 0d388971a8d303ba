/** What of several lines sounds at a time, remembered: the same times are asked about again and again. */
import { lastBegun } from "../base/index.js"
import { roomFor } from "./grown.js"

interface Note {
  readonly onset: number
  readonly end: number
  readonly tone: { readonly step: number }
}

const FEWEST = 1 << 8

export class Moments {
  /** By moment: step of the lowest note that sounds; Infinity where none does. */
  floor = new Float64Array(FEWEST)
  /** By moment and line: the last note that has begun; -1 where none has. */
  begun = new Int32Array(FEWEST)
  private readonly known = new Map<number, number>()

  constructor(private readonly lines: readonly (readonly Note[])[]) {}

  /** Where this time stands. */
  at(time: number): number {
    return this.known.get(time) ?? this.put(time)
  }

  private put(time: number): number {
    const { lines, known } = this
    const moment = known.size
    known.set(time, moment)
    this.floor = roomFor(this.floor, moment + 1)
    this.begun = roomFor(this.begun, (moment + 1) * lines.length)
    let floor = Infinity
    lines.forEach((notes, line) => {
      const at = lastBegun(notes, time)
      this.begun[moment * lines.length + line] = at
      const note = notes[at]
      if (note !== undefined && note.end > time && note.tone.step < floor) floor = note.tone.step
    })
    this.floor[moment] = floor
    return moment
  }
}
