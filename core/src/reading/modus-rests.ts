/**
 * Longa rests at the beginning of a voice that show its modus: before the sign of tempus they are only signs, after it they are
 * counted too (Tractatus de regulari valore notarum, 1470s, 7-10; Practica musicae, 1496, II.7).
 */
import type { SignId } from "../base/index.js"
import type { FlatSign, Rest } from "../page/index.js"
import { LONGA, type Measuring, type Settings } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"

const PERFECT_REST = 3

/** The modus that a stretch of nothing but longa rests stands for (option modusRestCode); undefined where there is none. */
export function modusByRests(
  figures: readonly DraftFigure[],
  settings: Settings,
): Pick<Measuring, "modusMaior" | "modusMinor"> | undefined {
  const code = settings["modusRestCode"]
  if (code === undefined || figures.length === 0 || figures.some(f => !f.rest || f.level !== LONGA)) return undefined
  const three = figures.filter(f => (f.restSign?.spaces?.num ?? 2) >= PERFECT_REST).length
  const maior = code === "twoPlusOne" ? three >= 2 : figures.length >= 3
  const minor = code === "twoPlusOne" ? three >= 3 || three === 1 : three > 0
  return { modusMaior: maior ? 3 : 2, modusMinor: minor ? 3 : 2 }
}

/**
 * The first sign of a voice, where rests of three spaces alone stand between it and the first note or shorter rest: the
 * modus minor is perfect from it on. How many there are says how long the voice is silent, and nothing of the modus maior.
 */
export function perfectModusFrom(flat: readonly FlatSign[]): SignId | undefined {
  let first: SignId | undefined
  let rests = 0
  for (const { sign } of flat) {
    if (sign.kind === "note") break
    if (sign.kind === "mensuration" && first === undefined) first = sign.id
    else if (sign.kind === "mensuration") return undefined
    if (sign.kind !== "rest") continue
    if (first === undefined) return undefined
    if (spacesOf(sign) < 2) break
    if (spacesOf(sign) !== PERFECT_REST) return undefined
    rests++
  }
  return rests > 0 ? first : undefined
}

const spacesOf = ({ spaces, level }: Rest): number => (spaces ? spaces.num / spaces.den : level === "longa" ? 2 : 0)
