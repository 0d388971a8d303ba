/** Cells of figures that are given as words. */
import { ratio, times, type Rational } from "../../../base/index.js"
import { unitOf, type Cell, type Metre, type Part } from "./cells.js"
import type { Figure, Letter } from "./figures.js"

/** A cell of figures given as letter and length in units of the level below; a dot after the letter adds. */
export function figured(metre: Metre, level: number, words: string, more: Partial<Figure> = {}): Cell {
  const unit = unitOf(metre, level)
  const parts = words.split(" ").map((word): Part => {
    const [, letter, dot, num, den] = /^([a-zA-Z])(\.?)(\d+)(?:\/(\d+))?$/.exec(word)!
    const share = ratio(Number(num), Number(den ?? 1))
    const rest = letter === letter!.toLowerCase()
    const figure: Figure = {
      letter: letter!.toUpperCase() as Letter,
      lasts: times(unit, share),
      ...(rest && { rest: true }),
      ...(dot && { dotted: true, adds: true }),
      ...more,
    }
    return { units: 0, node: figure }
  })
  return { level, parts: parts.map(part => ({ ...part, units: unitsOf(part, unit) })) }
}

const unitsOf = ({ node }: Part, unit: Rational): number => {
  const { lasts } = node as Figure
  return (lasts.num * unit.den) / (lasts.den * unit.num)
}
