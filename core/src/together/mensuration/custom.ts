/** How common a mensuration is in a practice, and how voices of one piece bear on each other. */
import type { Divisions, Settings } from "../../practices/index.js"
import type { LevelName } from "./types.js"
import { AGREE, CUSTOM, SAME_BREVE, type Custom } from "./weights.js"

/** The customs of a practice; `isSigned`: a sign states the tempus and not the modus. */
export function customOf(practice: string, settings: Settings, isSigned: boolean): Custom {
  const isEarly = settings["minims"] === "unwritten"
  const row = practice !== "ars-nova" ? practice : isSigned ? "ars-nova-signed" : isEarly ? "ars-nova-early" : practice
  return CUSTOM[row] ?? CUSTOM["ars-nova"]!
}

/** Customs of a voice that may be of another practice, with such a chance. */
export function blended(own: Custom, other: Custom, chance: number): Custom {
  const blend = (a: number, b: number): number => (1 - chance) * a + chance * b
  const tempora = (Object.keys(own.tempora) as (keyof Custom["tempora"])[]).map(
    key => [key, blend(own.tempora[key], other.tempora[key])] as const,
  )
  return {
    modusMaior: blend(own.modusMaior, other.modusMaior),
    modusMinor: blend(own.modusMinor, other.modusMinor),
    tempora: Object.fromEntries(tempora) as unknown as Custom["tempora"],
  }
}

/** Chance of the divisions before anything is looked at. */
export function customary(known: Custom, { modusMaior, modusMinor, tempus, prolatio }: Divisions): number {
  const maior = modusMaior === 3 ? known.modusMaior : 1 - known.modusMaior
  const minor = modusMinor === 3 ? known.modusMinor : 1 - known.modusMinor
  return maior * minor * known.tempora[`${tempus}.${prolatio}` as const]
}

/**
 * Chance that a voice has these divisions in a piece of those: level by level, a voice that departs following custom; or
 * with tempus and prolation the other way round, so that breves are as long.
 */
export function agreement(custom: Custom, own: Divisions, common: Divisions): number {
  const agrees = (level: LevelName): number => agreesIn(custom, level, own[level], common[level])
  const modus = agrees("modusMaior") * agrees("modusMinor")
  const apart = agrees("tempus") * agrees("prolatio")
  if (common.tempus === common.prolatio) return modus * apart
  const turned = own.tempus === common.prolatio && own.prolatio === common.tempus
  return modus * ((1 - SAME_BREVE) * apart + (turned ? SAME_BREVE : 0))
}

/** Chance that a voice has this division of a level in a piece of that one. */
export function agreesIn(custom: Custom, level: LevelName, own: 2 | 3, common: 2 | 3): number {
  const perfect = usually(custom, level)
  const departs = (1 - AGREE[level]) * (own === 3 ? perfect : 1 - perfect)
  return departs + (own === common ? AGREE[level] : 0)
}

/** Chance that the level is perfect, by custom. */
function usually({ modusMaior, modusMinor, tempora }: Custom, level: keyof Divisions): number {
  if (level === "modusMaior") return modusMaior
  if (level === "modusMinor") return modusMinor
  return level === "tempus" ? tempora["3.2"] + tempora["3.3"] : tempora["3.3"] + tempora["2.3"]
}
