/** What stays equal where the mensuration changes in all voices, and what that does to the speed. */
import { compare, equals, over, ONE, toText, type Rational } from "../base/index.js"
import type { Score, ScoreVoice } from "../score/index.js"
import type { Equivalence } from "./names.js"
import { lengthsOf, tactusOf, type Lengths } from "./tempo.js"

export interface EquivalenceRule {
  readonly practice: string
  readonly keeps: Equivalence
  readonly source: string
  /** Breves, in minims, between which this rule holds; between all where it is left out. */
  readonly between?: readonly (readonly [number, number])[]
}

/** What each practice keeps; the first that fits. */
export const EQUIVALENCE_RULES: readonly EquivalenceRule[] = [
  {
    practice: "modal",
    keeps: "minim",
    source: "the tempus is one measure for all: Ars cantus mensurabilis, c. 1280, I",
  },
  {
    practice: "ars-antiqua",
    keeps: "minim",
    source: "the tempus is one measure for all: Ars cantus mensurabilis, c. 1280, I",
  },
  { practice: "ars-nova", keeps: "minim", source: "minims equal in the four prolations: common practice, from memory" },
  {
    practice: "trecento",
    keeps: "breve",
    between: [
      [8, 6],
      [12, 9],
    ],
    source:
      "octonaria against senaria and duodenaria against novenaria as 4 to 3: Tractatus practice ad modum Ytalicorum, 1412",
  },
  {
    practice: "trecento",
    keeps: "minim",
    source: "unequal breves and equal minims within a family: Rubrice breves, early 14th c.",
  },
  { practice: "ars-subtilior", keeps: "minim", source: "common practice, from memory" },
  {
    practice: "white",
    keeps: "minim",
    source: "minim for minim between signs without stroke, figure or reversal: Proportionale musices, 1470s, III.2",
  },
]

/** A change of mensuration, and how the speed of the score's unit goes on. */
export interface EquivalenceTaken {
  /** In the score's unit. */
  readonly onset: Rational
  /** "ratio": as decided in numbers. "none": only some voices change; all keep exact step. */
  readonly keeps: Equivalence | "ratio" | "none"
  /** The unit is so much faster than before the change. */
  readonly faster: Rational
  readonly from: "practice" | "decided"
  readonly source: string
  /** Labels of the voices that change. */
  readonly voices: readonly string[]
}

/** An editor's decision on one change, or with `onset` where nothing changes: so much faster from there on. */
export interface EquivalenceDecision {
  readonly onset: Rational
  readonly keeps: Equivalence | Rational
}

/** How much faster the unit goes after the change; null where a length that is to be kept does not exist. */
export function fasterBy(keeps: Equivalence, before: Lengths, after: Lengths): Rational | null {
  if (keeps === "minim") return ONE
  const length = (of: Lengths) => (keeps === "beat" ? tactusOf(of) : keeps === "breve" ? of.brevis : of.semibrevis)
  const [old, next] = [length(before), length(after)]
  // What lasted `old` units now lasts as long with `next` of them.
  return old && next ? over(next, old) : null
}

export function practiceKeeps(practice: string, before: Lengths, after: Lengths): EquivalenceRule {
  const pair = [before.brevis, after.brevis]
  const holds = ({ between }: EquivalenceRule) =>
    !between || between.some(two => two.every(breve => pair.some(one => one.den === 1 && one.num === breve)))
  const rules = EQUIVALENCE_RULES.filter(rule => rule.practice === practice)
  return rules.find(holds) ?? { practice, keeps: "minim", source: "common practice" }
}

/** All changes after the beginning in the order of time, and decisions where nothing changes. */
export function equivalencesOf(
  score: Score,
  keeps: Equivalence | undefined,
  decisions: readonly EquivalenceDecision[],
): EquivalenceTaken[] {
  const changes = momentsOf(score).map(onset => taken(score, onset, keeps, decisions))
  const others = decisions
    .filter(one => !changes.some(change => equals(change.onset, one.onset)))
    .flatMap(one => (typeof one.keeps === "string" ? [] : [decided(one.onset, one.keeps, [])]))
  return [...changes, ...others].sort((a, b) => compare(a.onset, b.onset))
}

function momentsOf(score: Score): Rational[] {
  const all = score.voices.flatMap(({ mensurations }) => mensurations.slice(1).map(one => one.onset))
  const inside = all.filter(onset => onset.num > 0 && compare(onset, score.duration) < 0).sort(compare)
  return inside.filter((onset, at) => at === 0 || !equals(onset, inside[at - 1]!))
}

function taken(
  score: Score,
  onset: Rational,
  keeps: Equivalence | undefined,
  decisions: readonly EquivalenceDecision[],
): EquivalenceTaken {
  const changing = score.voices.filter(voice => changesAt(voice, onset))
  const labels = changing.map(voice => voice.label)
  const decision = decisions.find(one => equals(one.onset, onset))
  if (decision && typeof decision.keeps !== "string") return decided(onset, decision.keeps, labels)
  const [before, after] = aroundIn(score, changing[0]!, onset)
  const wanted = decision && typeof decision.keeps === "string" ? decision.keeps : keeps
  if (changing.length < score.voices.length && !decision)
    return {
      onset,
      keeps: "none",
      faster: ONE,
      from: "practice",
      source: "the other voices go on in their measure, and all keep step by the minim",
      voices: labels,
    }
  const rule = wanted === undefined ? practiceKeeps(score.practice, before, after) : undefined
  const kept = wanted ?? rule!.keeps
  return {
    onset,
    keeps: kept,
    faster: fasterBy(kept, before, after) ?? ONE,
    from: rule ? "practice" : "decided",
    source: rule?.source ?? "an editor's decision",
    voices: labels,
  }
}

const decided = (onset: Rational, faster: Rational, voices: readonly string[]): EquivalenceTaken => ({
  onset,
  keeps: "ratio",
  faster,
  from: "decided",
  source: "an editor's decision",
  voices,
})

const changesAt = ({ mensurations }: ScoreVoice, onset: Rational): boolean =>
  mensurations.slice(1).some(one => equals(one.onset, onset))

function aroundIn({ unit }: Score, { mensurations }: ScoreVoice, onset: Rational): readonly [Lengths, Lengths] {
  const at = mensurations.findLastIndex(one => equals(one.onset, onset))
  const earlier = mensurations.findLast(one => compare(one.onset, onset) < 0) ?? mensurations[0]!
  return [lengthsOf(unit, earlier.periods), lengthsOf(unit, mensurations[at]!.periods)]
}

/** For people: what was kept at each change in all voices, changes alike told together; nothing where the unit just goes on. */
export function equivalenceSentences(taken: readonly EquivalenceTaken[], unit: Score["unit"]): string[] {
  const told = new Map<string, string[]>()
  const tell = (sentence: string, onset: string) => told.set(sentence, [...(told.get(sentence) ?? []), onset])
  for (const { onset, keeps, faster, from, source } of taken) {
    if (keeps === "none") continue
    const reason = from === "decided" ? "as decided" : source
    if (keeps === "ratio")
      tell(`the ${NAMES[unit]} goes ${toText(faster)} times as fast as before, ${reason}.`, toText(onset))
    else
      tell(`where all voices change their sign, the ${nameOf(keeps, unit)} keeps its length: ${reason}.`, toText(onset))
  }
  return [...told].map(([sentence, onsets]) => `From ${NAMES[unit]} ${shortList(onsets)} on ${sentence}`)
}

const NAMES: Readonly<Record<Score["unit"], string>> = { minima: "minim", tempus: "tempus" }
const nameOf = (keeps: Equivalence, unit: Score["unit"]): string => (keeps === "minim" ? NAMES[unit] : keeps)

function shortList(onsets: readonly string[]): string {
  const few = onsets.slice(0, 3).join(", ")
  return onsets.length > 3 ? `${few} and ${onsets.length - 3} more` : few
}
