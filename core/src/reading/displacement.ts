/** Where perfections begin when one is left open, and while a unit is carried past them. All in ticks. */
import type { Mensuration } from "../practices/index.js"

/** The beginning of the next perfection of `cell` after `position`. */
export const nextPerfection = (position: number, cell: number, cycle: number): number =>
  (Math.ceil(position / cell) * cell) % cycle

/** What is left of a displacement by `shift` at `position`: it ends where the perfection that was displaced is complete again. */
export function keptShift(m: Mensuration, position: number, shift: number): number {
  if (shift === 0) return 0
  const cell = displaced(m, shift)
  return cell > 0 && position % cell !== 0 ? shift % cell : 0
}

/** The smallest perfection that `shift` does not fill: the one that is displaced by it. */
function displaced(m: Mensuration, shift: number): number {
  for (let n = m.perfect.length - 1; n >= 0; n--) {
    const cell = m.full[m.perfect[n]!]!
    if (shift % cell !== 0) return cell
  }
  return 0
}
