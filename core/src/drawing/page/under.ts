/**
 * Voices one under another: signs that sound together stand together, and all voices go to the next system at one moment.
 * What a voice has at no moment of its own (clefs, dots, signs) stands before the next of its notes that has one.
 */
import type { SignId } from "../../base/index.js"
import { Row, type SetCell, type Spacing } from "./set-line.js"
import type { Cell } from "./cells.js"

/** Cells of one voice up to a moment: those without one, then the one that sounds. */
interface Step {
  readonly moment: number
  readonly cells: readonly Cell[]
}

/** What follows the last moment of a voice stands there. */
const END = Infinity

/** The moment at which a cell sounds: that of its first sign that has one. */
export function momentOf(cell: Cell, moments: ReadonlyMap<SignId, number>): number | undefined {
  for (const id of cell.sounding) {
    const moment = moments.get(id)
    if (moment !== undefined) return moment
  }
  return undefined
}

export function stepsOf(cells: readonly Cell[], moments: ReadonlyMap<SignId, number>): Step[] {
  const steps: Step[] = []
  let waiting: Cell[] = []
  let latest = -Infinity
  for (const cell of cells) {
    const moment = momentOf(cell, moments)
    const before = steps.at(-1)
    if (moment === undefined && before && clingsBehind(cell) && waiting.length === 0) {
      steps[steps.length - 1] = { ...before, cells: [...before.cells, cell] }
      continue
    }
    waiting.push(cell)
    if (moment === undefined) continue
    latest = Math.max(latest, moment)
    steps.push({ moment: latest, cells: waiting })
    waiting = []
  }
  return waiting.length > 0 ? [...steps, { moment: END, cells: waiting }] : steps
}
const clingsBehind = (cell: Cell): boolean => cell.clings || cell.kind === "stroke"

export interface System {
  /** In the order of the voices. */
  readonly rows: readonly (readonly SetCell[])[]
  readonly cells: readonly (readonly Cell[])[]
  readonly end: number
}

/** Sets the steps of all voices from `start` on; `heads` are what each voice begins the system with. */
export function setSystem(
  voices: readonly (readonly Step[])[],
  heads: readonly (readonly Cell[])[],
  start: number,
  spacing: Spacing,
): { system: System; ends: readonly { moment: number; end: number }[] } {
  const sets = voices.map(() => ({ row: new Row(start, spacing), set: [] as SetCell[], at: 0 }))
  const put = (voice: (typeof sets)[number], cell: Cell, x: number) => {
    voice.row.take(cell, x)
    voice.set.push({ cell, x })
  }
  heads.forEach((cells, v) => cells.forEach(cell => put(sets[v]!, cell, sets[v]!.row.place(cell))))
  const ends: { moment: number; end: number }[] = []
  let together = start
  for (const moment of momentsIn(voices)) {
    // leads first, then all that sounds now at the place where the last of them can stand
    const sounding: { voice: (typeof sets)[number]; rest: readonly Cell[]; cell: Cell }[] = []
    voices.forEach((steps, v) => {
      const voice = sets[v]!
      for (let step = steps[voice.at]; step && step.moment <= moment; step = steps[++voice.at]) {
        const main = step.moment === END ? 0 : mainOf(step)
        for (const cell of step.cells.slice(0, main)) put(voice, cell, voice.row.place(cell))
        const cell = step.cells[main]
        if (cell) sounding.push({ voice, cell, rest: step.cells.slice(main + 1) })
      }
    })
    for (const { voice, cell } of sounding) together = Math.max(together, voice.row.place(cell) + cell.body.left)
    for (const { voice, cell, rest } of sounding) {
      put(voice, cell, Math.max(voice.row.place(cell), together - cell.body.left))
      for (const one of rest) put(voice, one, voice.row.place(one))
    }
    ends.push({ moment, end: Math.max(...sets.map(one => one.row.end)) })
  }
  const end = Math.max(start, ...sets.map(one => one.row.end))
  return {
    system: { rows: sets.map(one => one.set), cells: sets.map(one => one.set.map(({ cell }) => cell)), end },
    ends,
  }
}

/** Which cell of a step sounds: the last, or the one before what clings behind it. */
function mainOf({ cells }: Step): number {
  let at = cells.length - 1
  while (at > 0 && clingsBehind(cells[at]!)) at--
  return at
}

function momentsIn(voices: readonly (readonly Step[])[]): number[] {
  return [...new Set(voices.flatMap(steps => steps.map(step => step.moment)))].sort((a, b) => a - b)
}

/** Where a system that would end beyond `width` is to be cut: the last moment that fits, or one a little earlier that is better to end at. */
export function cutMoment(
  voices: readonly (readonly Step[])[],
  ends: readonly { moment: number; end: number }[],
  width: number,
): number | undefined {
  const over = ends.findIndex(({ end }) => end > width)
  if (over < 0) return undefined
  let best = Math.max(1, over)
  for (let at = best - 1; at > 0 && ends[at - 1]!.end > width * EARLY; at--)
    if (fitness(voices, ends[at]!.moment) > fitness(voices, ends[best]!.moment)) best = at
  return ends[best]?.moment
}
/** How well a system ends before this moment: voices that begin something there, and far more those that have closed something. */
function fitness(voices: readonly (readonly Step[])[], moment: number): number {
  let sum = 0
  for (const steps of voices) {
    const at = steps.findIndex(step => step.moment === moment)
    if (at >= 0) sum += steps[at - 1]?.cells.at(-1)?.kind === "stroke" ? 10 : 1
  }
  return sum
}

/** How full a system has to be to be cut there. */
const EARLY = 0.72

/** Stretches everything evenly, so that what stands together stays together. */
export function stretched(row: readonly SetCell[], from: number, end: number, width: number): SetCell[] {
  const factor = end > from ? Math.max(1, (width - from) / (end - from)) : 1
  return row.map(({ cell, x }) => ({ cell, x: from + (x - from) * factor }))
}
