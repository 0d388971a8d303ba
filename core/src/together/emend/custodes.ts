/** What the custodes at line ends say: each stands at the height of the note that comes next. */
import type { Custos, Sign, Voice } from "../../page/index.js"
import { stepNumber } from "../../reading/pitches.js"

/** Custodes whose pitch is not that of the next note. A note without a pitch contradicts none. */
export function contradicted({ signs }: Voice): number {
  let count = 0
  signs.forEach((sign, i) => {
    if (sign.kind === "custos" && contradicts(sign, stepAfter(signs, i))) count++
  })
  return count
}

/** Staff step of the custos that stands right before this place in the signs; undefined where there is none. */
export function custosBefore(signs: readonly Sign[], place: number): number | undefined {
  for (let i = place - 1; i >= 0; i--) {
    const sign = signs[i]!
    if (sign.kind === "custos") return sign.pitch && stepNumber(sign.pitch)
    if (sign.kind === "note" || sign.kind === "rest" || sign.kind === "ligature") return undefined
  }
  return undefined
}

const contradicts = ({ pitch }: Custos, step: number | undefined): boolean =>
  pitch !== undefined && step !== undefined && stepNumber(pitch) !== step

function stepAfter(signs: readonly Sign[], place: number): number | undefined {
  for (let i = place + 1; i < signs.length; i++) {
    const sign = signs[i]!
    const note = sign.kind === "ligature" ? sign.members.find(member => member.kind === "note") : sign
    if (note?.kind === "note") return note.pitch && stepNumber(note.pitch)
  }
  return undefined
}
