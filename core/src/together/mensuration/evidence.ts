/** What speaks for one mensuration and against another: the places of the notes, the dots, the inner signs. */
import type { SignId } from "../../base/index.js"
import type { Trial } from "./candidates.js"
import type { InnerSign } from "./inner-signs.js"
import { MINIM } from "./measures.js"
import { inWords, type Spoken } from "./sentences.js"
import type { Section, Token } from "./tokens.js"
import type { Evidence } from "./types.js"
import { TEMPER } from "./weights.js"

/** Evidence weaker than this (natural logarithm of odds) is not told. */
const LEAST_TOLD = 0.35
/** So many of each are told, and so many places with each. */
const MOST_TOLD = 6
const MOST_PLACES = 4

/** Tokens of one kind, and how much better the candidate foretells them. */
interface Heap {
  readonly spoken: Spoken
  weight: number
  readonly places: { readonly token: Token; readonly weight: number }[]
}

/** The evidence for a candidate (positive weights) and against it, measured against another. */
export function evidenceFor(sections: readonly Section[], candidate: Trial, other: Trial): Evidence[] {
  const heaps = new Map<string, Heap>()
  sections.forEach((section, s) => {
    const [own, against] = [candidate.foretold[s]!, other.foretold[s]!]
    if (own === against) return
    section.tokens.forEach((token, t) => {
      const spoken = speaks(token, own.home[t]!, own.doubled[t]!, own.dots[t])
      const weight = TEMPER * (own.steps[t]! - against.steps[t]!)
      addTo(heaps, spoken, token, weight)
    })
  })
  const told = [...heaps.values()].map(toEvidence)
  const inner = candidate.signs.map((sign, i) => innerEvidence(sign, other.signs[i]))
  return [...told, ...inner]
    .filter(({ weight }) => Math.abs(weight) >= LEAST_TOLD)
    .sort((a, b) => Math.abs(b.weight) - Math.abs(a.weight))
    .slice(0, MOST_TOLD)
}

function speaks(token: Token, home: number, doubled: number, dot: Spoken["dot"]): Spoken {
  const { level } = token
  if (dot !== undefined) return { rule: dot === "nothing" ? "dot-without-meaning" : `dot-of-${dot}`, level, dot }
  if (level < MINIM && home < 0.5) return { rule: "off-its-place", level }
  if (doubled > 0.5) return { rule: "alteration", level }
  return level < MINIM ? { rule: "in-its-place", level } : { rule: "small-notes", level: MINIM }
}

function addTo(heaps: Map<string, Heap>, spoken: Spoken, token: Token, weight: number): void {
  const key = `${spoken.rule} ${spoken.level}`
  let heap = heaps.get(key)
  if (heap === undefined) heaps.set(key, (heap = { spoken, weight: 0, places: [] }))
  heap.weight += weight
  heap.places.push({ token, weight })
}

function toEvidence({ spoken, weight, places }: Heap): Evidence {
  const speaking = places
    .filter(one => one.weight * weight > 0)
    .sort((a, b) => Math.abs(b.weight) - Math.abs(a.weight))
    .slice(0, MOST_PLACES)
    .sort((a, b) => a.token.number - b.token.number)
  const numbers = speaking.map(one => one.token.number)
  const signs = speaking.map(({ token }): SignId => (spoken.dot === undefined ? token.id : token.dot!))
  const more = places.filter(one => one.weight * weight > 0).length - speaking.length
  return { rule: spoken.rule, signs, weight: round(weight), what: inWords(spoken, numbers, more, weight > 0) }
}

const INNER: Record<InnerSign["rule"], string> = {
  "rest-of-three-spaces": "rests of three spaces are longs of three breves",
  "rest-of-two-spaces": "rests have two spaces and none has three",
  "hanging-rests": "two rests hang side by side, with room for a third",
  "coloured-threes": "coloured notes stand in threes, as they do where they lose a third",
  "stemmed-pairs": "of two semibreves one bears a stem, as the longer of two that are not alike",
  "given-durations": "the file gives notes as perfect, or as doubled",
  groups: "the sizes of the groups of semibreves",
}

function innerEvidence(own: InnerSign, other: InnerSign | undefined): Evidence {
  const weight = round(TEMPER * (own.weight - (other?.weight ?? 0)))
  return { rule: own.rule, signs: own.signs.slice(0, MOST_PLACES), weight, what: INNER[own.rule] }
}

const round = (weight: number): number => Math.round(weight * 100) / 100
