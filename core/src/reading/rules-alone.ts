/** What the rules alone would say, beside what a value given in the file or a decision says. */
import { equals } from "../base/index.js"
import type { Reading, SignReading } from "./types.js"

/** Whether something else than the rules decided the sign, or had a say in it. */
export const isRuled = ({ decidedBy, refused }: SignReading): boolean =>
  decidedBy === "given" || decidedBy === "decision" || refused !== undefined

/** The signs with what `alone` says of those that something else decided: themselves, or the mark after them. */
export function withRulesOf({ signs }: Reading, alone: Reading): SignReading[] {
  const told = [...signs]
  let last = -1
  signs.forEach((sign, i) => {
    const other = alone.signs[i]
    if (sign.number > 0) last = i
    if (other === undefined || !isRuled(sign)) return
    if (sign.number === 0 && other.takenFor !== undefined && other.takenFor !== sign.takenFor)
      told[i] = { ...sign, rulesTakeFor: other.takenFor }
    const at = sign.number === 0 ? last : i
    const before = alone.signs[at]
    if (before !== undefined && !equals(before.duration, told[at]!.duration))
      told[at] = { ...told[at]!, rulesSay: before.duration }
  })
  return told
}
