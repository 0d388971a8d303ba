/** What a mensuration says, in words. */
import type { MensurationSpan } from "../../reading/index.js"

const how = (division: 2 | 3): string => (division === 3 ? "three" : "two")

/** "three semibreves to a breve, two minims to a semibreve"; perfect modi before them. */
export function mensurationInWords({ modusMaior, modusMinor, tempus, prolatio }: MensurationSpan): string {
  const said: string[] = []
  if (modusMaior === 3) said.push("three longs to a maxima")
  if (modusMinor === 3 || (modusMinor !== null && tempus === null)) said.push(`${how(modusMinor)} breves to a long`)
  if (tempus !== null && prolatio !== null)
    said.push(`${how(tempus)} semibreves to a breve`, `${how(prolatio)} minims to a semibreve`)
  return said.join(", ")
}

/** "tempus perfectum, prolatio minor". */
export function mensurationName(tempus: 2 | 3, prolatio: 2 | 3): string {
  return `tempus ${tempus === 3 ? "perfectum" : "imperfectum"}, prolatio ${prolatio === 3 ? "maior" : "minor"}`
}
