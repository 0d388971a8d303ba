/** Mensurations in words. */
import type { Divisions } from "../../practices/index.js"
import { LEVEL_NAMES, type LevelName } from "./types.js"

const NAMES: Record<LevelName, string> = {
  modusMaior: "modus maior",
  modusMinor: "modus minor",
  tempus: "tempus",
  prolatio: "prolatio",
}

/** "perfect tempus", "prolatio maior" */
export function levelInWords(level: LevelName, parts: 2 | 3): string {
  if (level === "prolatio") return `prolatio ${parts === 3 ? "maior" : "minor"}`
  return `${parts === 3 ? "perfect" : "imperfect"} ${NAMES[level]}`
}

/** "imperfect modus minor, perfect tempus, prolatio minor"; modus maior only where it is perfect. */
export function mensurationInWords(divisions: Divisions): string {
  return LEVEL_NAMES.filter(level => level !== "modusMaior" || divisions[level] === 3)
    .map(level => levelInWords(level, divisions[level]))
    .join(", ")
}
