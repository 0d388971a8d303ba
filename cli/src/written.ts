/** Each sign as the trade abbreviates it: "B", "B." with a dot after it, "-S" for a rest, "[S" and "S]" at the edges of a ligature. */
import { ABBREVIATIONS, type Page, type Reading, type Sign, type SignId } from "@resolutio/core"

/** By id, for the voice that the reading belongs to. */
export function writtenSigns(page: Page, reading: Reading): ReadonlyMap<SignId, string> {
  const levels = new Map(reading.signs.map(sign => [sign.id, sign.level]))
  const written = new Map<SignId, string>()
  const add = (signs: readonly Sign[], inLigature: boolean) =>
    signs.forEach((sign, at) => {
      if (sign.kind === "ligature") return add(sign.members, true)
      const level = levels.get(sign.id) ?? ("level" in sign ? sign.level : undefined)
      const dotted = signs[at + 1]?.kind === "dot" ? "." : ""
      const body = `${abbreviation(sign, level ? ABBREVIATIONS[level] : "?")}${dotted}`
      const edges = inLigature ? [at === 0 ? "[" : "", isLast(signs, at) ? "]" : ""] : ["", ""]
      written.set(sign.id, `${edges[0]}${body}${edges[1]}`)
    })
  add(page.voices.find(voice => voice.id === reading.voice)?.signs ?? [], false)
  return written
}

const isLast = (signs: readonly Sign[], at: number) => signs.slice(at + 1).every(sign => sign.kind !== "note")

function abbreviation(sign: Sign, level: string): string {
  switch (sign.kind) {
    case "note":
      return `${level}${sign.plica ? " plica" : ""}${sign.coloration === "none" ? "" : ` ${sign.coloration}`}`
    case "rest":
      return `-${level}`
    case "dot":
      return "."
    case "stroke":
      return "|"
    case "mensuration":
      return mensurationSign(sign)
    case "proportion":
      return `${sign.num}${sign.numbase === undefined ? "" : `/${sign.numbase}`}`
    default:
      return ""
  }
}

function mensurationSign(sign: Extract<Sign, { kind: "mensuration" }>): string {
  const circle = sign.reversed && sign.sign === "C" ? "Ɔ" : (sign.sign ?? "")
  return `${circle}${"·".repeat(sign.dots ?? 0)}${"|".repeat(sign.strokes ?? 0)}${sign.figures?.join("/") ?? ""}${sign.letter ?? ""}`
}
