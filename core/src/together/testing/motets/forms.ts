/** Forms of notes that leave lengths as they are: plicas, running semibreves, ligatures that begin with two semibreves, signa. */
import type { Random } from "../../../reading/testing/random.js"
import type { Metre } from "./cells.js"
import type { Features } from "./features.js"
import type { Figure } from "./figures.js"

export function drawnOtherwise(
  figures: readonly Figure[],
  metre: Metre,
  features: Features,
  random: Random,
): readonly Figure[] {
  let made = [...figures]
  if (features.has("plicas"))
    made = made.map(one => (canBearPlica(one) && random.chance(0.12) ? { ...one, plica: true } : one))
  if (features.has("opposite-propriety")) made = withOpposite(made, random)
  if (features.has("conjuncturae") && metre.repertory !== "c1350") made = withConjuncturae(made, random)
  if (features.has("signa")) made = made.map(one => (random.chance(0.01) ? { ...one, signum: true } : one))
  return made
}

const canBearPlica = ({ letter, rest, red }: Figure): boolean => !rest && !red && (letter === "L" || letter === "B")
const isSemibreve = (one: Figure | undefined): boolean => one?.letter === "S" && !one.rest && !one.stemDown

/** A pair in ligature goes on to the breve or long after it (Ars cantus mensurabilis, c. 1280, VII). */
function withOpposite(figures: readonly Figure[], random: Random): Figure[] {
  const made = [...figures]
  for (let i = 2; i < made.length - 1; i++) {
    const [first, second, third] = [made[i - 2]!, made[i - 1]!, made[i]!]
    const pair = first.ligature !== undefined && first.ligature === second.ligature && isSemibreve(first)
    const open = made[i - 3]?.ligature !== first.ligature && !second.dotted
    const joins = !third.rest && third.ligature === undefined && (third.letter === "B" || third.letter === "L")
    if (pair && open && joins && isSemibreve(second) && random.chance(0.5))
      made[i] = { ...third, ligature: first.ligature!, melisma: true }
  }
  return made
}

/** Two or three semibreves hang on the long or breve before them (the same, VIII). */
function withConjuncturae(figures: readonly Figure[], random: Random): Figure[] {
  const made = [...figures]
  let number = 0
  for (let i = 0; i < made.length - 3; i++) {
    const head = made[i]!
    const free =
      !head.rest && head.ligature === undefined && !head.dotted && (head.letter === "L" || head.letter === "B")
    if (!free) continue
    let end = i + 1
    while (isSemibreve(made[end]) && made[end]!.ligature === undefined && end - i <= 3) end++
    const last = made[end - 1]!
    // they end where their breve does: at what is no semibreve, or at a dot
    if (end - i < 3 || (isSemibreve(made[end]) && !last.dotted)) continue
    if (made.slice(i + 1, end - 1).some(one => one.dotted) || !random.chance(0.4)) continue
    number++
    for (let at = i; at < end; at++) made[at] = { ...made[at]!, conjunctura: number, ...(at > i && { melisma: true }) }
  }
  return made
}
