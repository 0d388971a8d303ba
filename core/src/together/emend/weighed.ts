/** What a changed voice, laid against the others, says for the change. */
import type { Voice } from "../../page/index.js"
import { commonEnds } from "../../reading/ends.js"
import type { Candidate } from "./candidates.js"
import { figuresOf, type Figure } from "./figures.js"
import type { Laid } from "./stage.js"
import { SLIP_COSTS } from "./weights.js"

/** A change that makes the page likelier. */
export interface Weighed {
  readonly candidate: Candidate
  readonly laid: Laid
  /** What the changed voice saves in rules and intervals, laid against the others (natural logarithm of odds). */
  readonly saves: number
  /** Of this, what notes that are taken out would have said for themselves, as notes of the voice do on the average. */
  readonly silenced: number
  /** How much less usual of these voices its figures are with it. */
  readonly habit: number
  /** What custodes, words and the other statements of a tenor say against it (negative: for it). */
  readonly alike: number
  /** All of these together, weighed: by how much better the page reads; and what the change costs as a slip. */
  readonly evidence: number
  readonly price: number
}

type Said = Pick<Weighed, "saves" | "silenced" | "habit" | "alike">

export function weighed(laid: Laid, candidate: Candidate, said: Said): Weighed {
  const evidence = said.saves - said.habit - said.alike
  return { candidate, laid, ...said, evidence, price: SLIP_COSTS[candidate.kind] + candidate.extra }
}

/** Changes of one place that come to the very same, as two signs of one mensuration do, are tried once. */
export function distinct(sorted: readonly Weighed[]): Weighed[] {
  const seen = new Set<string>()
  return sorted.filter(({ candidate: { kind, voice, from }, evidence, price }) => {
    const key = `${kind} ${voice} ${from} ${evidence.toFixed(6)} ${price.toFixed(6)}`
    return !seen.has(key) && seen.add(key)
  })
}

/**
 * A note that sounds well speaks for the page, one that is gone says nothing: without this, to take out what stands twice
 * would seem to cost what is heard well in it.
 */
export function silencedBy({ subject, analysis, times }: Laid, after: Voice): number {
  const { head, tail } = commonEnds(subject.voice.signs, after.signs, Object.is)
  const within = ({ signs }: Voice): Figure[] => figuresOf({ signs: signs.slice(head, signs.length - tail) })
  const gone = pitched(within(subject.voice)) - pitched(within(after))
  if (gone <= 0) return 0
  const own = subject.figures.flatMap(({ sign, index }) => (sign.kind === "note" ? [analysis.costs[index] ?? 0] : []))
  const mean = own.reduce((sum, one) => sum + one, 0) / Math.max(1, own.length)
  return gone * times * Math.max(0, -mean)
}

const pitched = (figures: readonly Figure[]): number =>
  figures.filter(({ sign }) => sign.kind === "note" && sign.pitch !== undefined).length
