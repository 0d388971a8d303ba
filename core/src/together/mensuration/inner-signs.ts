/** Signs of mensuration within the music that the places of the notes do not show. */
import type { SignId } from "../../base/index.js"
import type { Divisions } from "../../practices/index.js"
import type { Token } from "./tokens.js"
import { LEVEL_NAMES, type LevelName } from "./types.js"
import { MOST_SIGNS, SIGNS } from "./weights.js"

/** One kind of inner sign in a voice: what it says of one level. */
export interface InnerSign {
  readonly rule:
    | "rest-of-three-spaces"
    | "rest-of-two-spaces"
    | "hanging-rests"
    | "coloured-threes"
    | "stemmed-pairs"
    | "groups"
    | "given-durations"
  readonly level: LevelName
  readonly signs: readonly SignId[]
  /** For (positive) or against the division that the candidate has. */
  readonly weight: number
}

const LONGA = 1
const GREATEST_PERFECT = 3
const GREATEST_GROUP = 6

export function innerSigns(tokens: readonly Token[], divisions: Divisions, grouped: boolean): InnerSign[] {
  const found = [
    ...longRests(tokens),
    ...givenDurations(tokens),
    ...hangingRests(tokens, grouped),
    ...colouredThrees(tokens, grouped),
    ...(grouped ? [...stemmedPairs(tokens), ...groupSizes(tokens)] : []),
  ]
  return found.map(one => ({
    ...one,
    weight:
      (divisions[one.level] === GREATEST_PERFECT ? 0.5 : -0.5) * one.weight * Math.min(MOST_SIGNS, one.signs.length),
  }))
}

/** Rests of three spaces are longs of three breves; two spaces, where no rest has three, rather speak for longs of two. */
function longRests(tokens: readonly Token[]): InnerSign[] {
  const of = (tempora: number) => tokens.filter(token => token.level === LONGA && token.tempora === tempora)
  const three = of(3).map(token => token.id)
  if (three.length > 0)
    return [{ rule: "rest-of-three-spaces", level: "modusMinor", signs: three, weight: SIGNS.threeSpaces }]
  const two = of(2).map(token => token.id)
  return two.length > 0
    ? [{ rule: "rest-of-two-spaces", level: "modusMinor", signs: two, weight: SIGNS.twoSpaces }]
    : []
}

/** Qualities that the file states beside the notes: only a division in three makes a note perfect, or doubles one. */
function givenDurations(tokens: readonly Token[]): InnerSign[] {
  const given: Partial<Record<LevelName, SignId[]>> = {}
  for (const token of tokens) {
    const level =
      token.given === "perfecta"
        ? LEVEL_NAMES[token.level]
        : token.given === "altera"
          ? LEVEL_NAMES[token.level - 1]
          : undefined
    if (level !== undefined && token.members === 0) (given[level] ??= []).push(token.id)
  }
  return bySigns(given, "given-durations", SIGNS.given)
}

function bySigns(found: Partial<Record<LevelName, SignId[]>>, rule: InnerSign["rule"], weight: number): InnerSign[] {
  return LEVEL_NAMES.flatMap(level => {
    const signs = found[level]
    return signs === undefined ? [] : [{ rule, level, signs, weight }]
  })
}

/** Just two rests of one size at one height: a perfection of the next larger note has room for a third unit. */
function hangingRests(tokens: readonly Token[], grouped: boolean): InnerSign[] {
  const hanging: Partial<Record<LevelName, SignId[]>> = {}
  for (let i = 1; i < tokens.length; i++) {
    const [one, other] = [tokens[i - 1]!, tokens[i]!]
    const level = LEVEL_NAMES[one.level - 1]
    if (!one.rest || !other.rest || one.level !== other.level || level === undefined || one.level < 2) continue
    if (grouped && one.level > 2) continue
    if (one.loc === undefined || one.loc !== other.loc) continue
    if (tokens[i + 1]?.rest === true || tokens[i - 2]?.rest === true) continue
    ;(hanging[level] ??= []).push(one.id)
  }
  return bySigns(hanging, "hanging-rests", SIGNS.hangingRests)
}

/** Three coloured notes of one level together: what they lose a third of is perfect. */
function colouredThrees(tokens: readonly Token[], grouped: boolean): InnerSign[] {
  const threes: Partial<Record<LevelName, SignId[]>> = {}
  for (let i = 0; i < tokens.length;) {
    let to = i
    while (tokens[to]?.coloured === true && tokens[to]!.level === tokens[i]!.level) to++
    const level = LEVEL_NAMES[tokens[i]!.level]
    if (level !== undefined && to - i > 0 && (to - i) % 3 === 0 && !(grouped && level === "prolatio"))
      (threes[level] ??= []).push(tokens[i]!.id)
    i = Math.max(to, i + 1)
  }
  return bySigns(threes, "coloured-threes", SIGNS.colouredThrees)
}

/** A stem down makes one of two semibreves the longer: two alike, of imperfect tempus, need none. */
function stemmedPairs(tokens: readonly Token[]): InnerSign[] {
  const signs = tokens.filter(token => token.members === 2 && token.stems.length === 1).map(token => token.id)
  return signs.length > 0 ? [{ rule: "stemmed-pairs", level: "tempus", signs, weight: SIGNS.stemmedPair }] : []
}

/** Threes and no more rather fill perfect breves, fours rather imperfect ones. */
function groupSizes(tokens: readonly Token[]): InnerSign[] {
  const groups = tokens.filter(token => token.members >= 2 && token.members <= GREATEST_GROUP)
  const sum = groups.reduce((total, token) => total + (SIGNS.groupOf[token.members as 2] ?? 0), 0)
  const weight = Math.max(-SIGNS.mostOfGroups, Math.min(SIGNS.mostOfGroups, sum))
  if (weight === 0) return []
  const telling = groups.filter(token => (SIGNS.groupOf[token.members as 2] ?? 0) * weight > 0)
  return [{ rule: "groups", level: "tempus", signs: [telling[0]!.id], weight }]
}
