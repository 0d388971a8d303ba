/** What encoders do differently, drawn at random: all of it is to be read alike. */
import { randomFrom } from "../../../reading/testing/random.js"
import type { Figure, Motet } from "./figures.js"
import type { Hand } from "./mei.js"

export const MANNERS = [
  "scoreDef",
  "nested",
  "labels",
  "sections",
  "pages",
  "lines",
  "attribute-dots",
  "inner-dots",
  "supplied",
  "unclear",
  "choice",
  "app",
  "recta",
  "lig",
  "quality",
  "names",
  "long-rests",
  "verses",
  "double-bar",
] as const
export type Manner = (typeof MANNERS)[number]

export function handOf(seed: number, bare: boolean): Hand {
  const random = randomFrom(seed * 31 + 7)
  const manners = new Set(MANNERS.filter(() => random.chance(0.3)))
  return {
    mensur: bare ? "none" : random.of(["staffDef", "child", "layer"] as const),
    syllables: random.chance(0.3),
    colour: random.of(["colored", "ink", "both", "void"] as const),
    dots: random.of(["plain", "plain", "told"] as const),
    faster: random.of(["proport", "mensur", "staffDef"] as const),
    lines: random.chance(0.4),
    parts: random.chance(0.15),
    manners,
  }
}

const OTHER_NAMES: Readonly<Record<string, string>> = { longa: "long", brevis: "breve", semibrevis: "1", minima: "2" }

/** The name of a level. */
export const named = (dur: string, manners: ReadonlySet<Manner>): string =>
  manners.has("names") ? (OTHER_NAMES[dur] ?? dur) : dur

/** A figure's element in what an editor puts around it; every seventh or so. */
export function inHands(element: string, i: number, manners: ReadonlySet<Manner>): string {
  const bare = element.trimEnd()
  const other = bare.replaceAll(/ xml:id="[^"]*"/g, "")
  const ways: Partial<Record<Manner, string>> = {
    supplied: `<supplied resp="#ed">${bare}</supplied>`,
    unclear: `<unclear cert="medium">${bare}</unclear>`,
    choice: `<choice><sic>${other.replace(/dur="[a-z0-9]+"/, 'dur="semibrevis"')}</sic><corr resp="#ed">${bare}</corr></choice>`,
    app: `<app><lem wit="#A">${bare}</lem><rdg wit="#B">${other}${other}</rdg><rdg wit="#C"><app><lem>${other}</lem><rdg/></app></rdg></app>`,
  }
  const mine = (Object.keys(ways) as Manner[]).filter(one => manners.has(one))
  return mine.length === 0 || i % 7 !== 3 ? element : `${ways[mine[Math.floor(i / 7) % mine.length]!]!}\n`
}

/** What an editor says of a note's quality, every third time. */
export function qualityOf({ letter, lasts, rest, dotted }: Figure, { practice, voices }: Motet, v: number): string {
  if (rest || dotted || (letter !== "L" && letter !== "B")) return ""
  const { modusminor = 2, tempus = 2, prolatio = 2 } = voices[v]!.mensuration
  const breve = practice === "ars-antiqua" ? 1 : tempus * prolatio
  const breves = lasts.num / lasts.den / breve
  if (letter === "B") return modusminor === 3 && breves === 2 ? ' dur.quality="altera"' : ""
  if (modusminor !== 3) return ""
  return breves === 3 ? ' dur.quality="perfecta"' : breves === 2 ? ' dur.quality="imperfecta"' : ""
}
