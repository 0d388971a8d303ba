/** How common a mensuration is in a practice, and how voices of one piece bear on each other. */
import type { Divisions } from "../../practices/index.js"
import type { Settings } from "../../practices/index.js"
import { LEVEL_NAMES } from "./types.js"
import { AGREE, CUSTOM } from "./weights.js"

/** The row of customs for a practice; `isSigned`: a sign states the tempus and not the modus. */
export const customOf = (practice: string, settings: Settings, isSigned: boolean): string =>
  practice !== "ars-nova"
    ? practice
    : isSigned
      ? "ars-nova-signed"
      : isUnwritten(settings)
        ? "ars-nova-early"
        : practice

const isUnwritten = (settings: Settings): boolean => settings["minims"] === "unwritten"

/** Chance of the divisions before anything is looked at. */
export function customary(custom: string, { modusMaior, modusMinor, tempus, prolatio }: Divisions): number {
  const known = CUSTOM[custom] ?? CUSTOM["ars-nova"]!
  const maior = modusMaior === 3 ? known.modusMaior : 1 - known.modusMaior
  const minor = modusMinor === 3 ? known.modusMinor : 1 - known.modusMinor
  return maior * minor * known.tempora[`${tempus}.${prolatio}` as const]
}

/** Chance that a voice has these divisions in a piece of those; a voice that departs follows custom. */
export function agreement(custom: string, own: Divisions, common: Divisions): number {
  let chance = 1
  for (const level of LEVEL_NAMES) {
    const perfect = usually(custom, level)
    const departs = (1 - AGREE[level]) * (own[level] === 3 ? perfect : 1 - perfect)
    chance *= departs + (own[level] === common[level] ? AGREE[level] : 0)
  }
  return chance
}

/** Chance that the level is perfect, by custom. */
function usually(custom: string, level: keyof Divisions): number {
  const { modusMaior, modusMinor, tempora } = CUSTOM[custom] ?? CUSTOM["ars-nova"]!
  if (level === "modusMaior") return modusMaior
  if (level === "modusMinor") return modusMinor
  return level === "tempus" ? tempora["3.2"] + tempora["3.3"] : tempora["3.3"] + tempora["2.3"]
}
