/** What all voices of an invented motet do at one time: rest, or wait for one or two that begin. */
import { plus, toNumber, ZERO } from "../../../base/index.js"
import type { Random } from "../../../reading/testing/random.js"
import { cellFrom, isCell, type Cell, type Metre } from "./cells.js"
import type { Tenor } from "./tenor.js"

interface Voice {
  readonly metre: Metre
  cells: readonly Cell[]
  readonly tenor?: Tenor
}

/** In breves. */
export function lengthOf(cells: readonly Cell[], { breve }: Metre): number {
  const lasts = (cell: Cell) =>
    cell.parts.reduce((total, { node }): typeof ZERO => plus(total, isCell(node) ? lasts(node) : node.lasts), ZERO)
  return cells.reduce((total, cell) => total + toNumber(lasts(cell)) / toNumber(breve), 0)
}

/** The first spans of most voices are rests (a beginning for one or two voices is common practice). */
export function withIntroitus(voices: readonly Voice[], random: Random): void {
  if (voices.length < 3) return
  const first = random.below(2)
  const two = random.chance(0.4) && voices.length > 3
  const breves = random.of([6, 12, 18])
  voices.forEach((voice, v) => {
    if (v === first || (two && v === 1 - first) || voice.tenor?.faster) return
    const spans = breves / voice.metre.divisions[0]
    const at = placeOf(voice, breves)
    if (at === undefined) return
    voice.cells = [...Array.from({ length: spans }, () => resting(voice.metre)), ...voice.cells.slice(at)]
  })
}

const resting = (metre: Metre): Cell => cellFrom(`r${metre.divisions[0]}`, metre, 1)

/** How many cells have passed when so many breves have; undefined where a cell reaches over that. */
export function placeOf({ cells, metre }: Pick<Voice, "cells" | "metre">, breves: number): number | undefined {
  for (let i = 0, at = 0; i <= cells.length; i++) {
    if (Math.abs(at - breves) < 1e-9) return i
    if (i < cells.length) at += lengthOf([cells[i]!], metre)
  }
  return undefined
}

/** A long rest in all voices, once or twice, where one and the same modus holds in all and a span begins in all. */
export function withGeneralRests(voices: readonly Voice[], random: Random): void {
  const modus = voices[0]!.metre.divisions[0]
  if (voices.some(one => one.metre.divisions[0] !== modus || one.tenor?.faster)) return
  const total = lengthOf(voices[0]!.cells, voices[0]!.metre)
  for (let n = 1 + random.below(2); n > 0; n--) {
    const at = modus * (2 + random.below(total / modus - 4))
    const places = voices.map(voice => [placeOf(voice, at), placeOf(voice, at + modus)])
    if (places.some(([from, to]) => from === undefined || to !== from + 1)) continue
    voices.forEach((voice, v) => {
      const from = places[v]![0]!
      voice.cells = voice.cells.map((cell, i) => (i === from ? resting(voice.metre) : cell))
    })
  }
}
