/** How sure the mensuration of a voice is, level by level, another practice that may be meant counted in. */
import type { Divisions } from "../../practices/index.js"
import type { RivalPractice } from "../../reading/settings.js"
import type { Rival } from "./by-ear.js"
import { levelsOf } from "./measures.js"
import { LEVEL_NAMES, type Candidate, type LevelName, type VoiceFound } from "./types.js"
import { LEAST_WRONG } from "./weights.js"

/** A mensuration and its chance. */
type Weighted = Pick<Candidate, "divisions" | "chance">

/** A practice that may be meant instead: its name, its chance, and the mensurations that the voice may have in it. */
export interface Beside {
  readonly name: string
  readonly chance: number
  /** None where it is so unlikely that nobody looked. */
  readonly trials: readonly Weighted[]
}

type Doubts = Pick<VoiceFound, "doubt" | "doubts">

/** Of a voice without a note. */
export const NO_DOUBTS: Doubts["doubts"] = { modusMaior: 0, modusMinor: 0, tempus: 0, prolatio: 0 }

/** `stated`: what holds in the other practice too where the voice's signs leave it no mensuration of its own. */
export function besideFor({ name, chance, weighed }: Rival, voice: number, stated: Divisions): Beside {
  if (weighed === undefined) return { name, chance, trials: [] }
  const trials = (weighed.works[voice]?.trials ?? []).map(({ divisions }, c) => ({
    divisions,
    chance: weighed.chances[voice]![c]!,
  }))
  return { name, chance, trials: trials.length > 0 ? trials : [{ divisions: stated, chance: 1 }] }
}

/** The likeliest in the other practice; undefined where nobody looked. */
export function rivalOf({ name, chance, trials }: Beside): RivalPractice | undefined {
  if (trials.length === 0) return undefined
  const { divisions } = trials.reduce((best, one) => (one.chance > best.chance ? one : best))
  const against = LEVEL_NAMES.map(level => [level, chanceAgainst(divisions, [level], trials)])
  return { name, chance, divisions, against: Object.fromEntries(against) as RivalPractice["against"] }
}

/**
 * Twice the chance that a level, or any, is divided otherwise than in the first candidate, given its practice; in another
 * practice it may be so as well. Levels that one of two practices does not have are judged by the other alone. Where the voice
 * turns, the levels that turn are those before the turn: they are as doubtful as that is.
 */
export function doubtsIn(
  practice: string,
  candidates: readonly Candidate[],
  beside: Beside | undefined,
  turn?: { readonly doubt: number; readonly levels: readonly LevelName[] },
): Doubts {
  const { divisions } = candidates[0]!
  const doubtOn = (levels: readonly LevelName[]): number => {
    const own = chanceAgainst(divisions, levels, candidates)
    const shared = beside ? levels.filter(level => isKnown(level, practice, beside.name)) : []
    const open = candidates.some(one => !agree(divisions, one.divisions, levels))
    if (beside === undefined || shared.length === 0) return open ? doubtOf(own) : 0
    const other = beside.trials.length === 0 ? 1 : chanceAgainst(divisions, shared, beside.trials)
    return doubtOf((1 - beside.chance) * own + beside.chance * Math.max(other, shared.length < levels.length ? own : 0))
  }
  const doubts = Object.fromEntries(LEVEL_NAMES.map(level => [level, doubtOn([level])])) as Doubts["doubts"]
  if (turn === undefined) return { doubt: doubtOn(LEVEL_NAMES), doubts }
  const others = LEVEL_NAMES.filter(level => !turn.levels.includes(level))
  return {
    doubt: Math.max(turn.doubt, doubtOn(others)),
    doubts: { ...doubts, ...Object.fromEntries(turn.levels.map(level => [level, turn.doubt])) },
  }
}

const isKnown = (level: LevelName, ...practices: readonly string[]): boolean =>
  practices.every(name => levelsOf(name).includes(level))

const agree = (a: Divisions, b: Divisions, levels: readonly LevelName[]): boolean =>
  levels.every(level => a[level] === b[level])

const chanceAgainst = (divisions: Divisions, levels: readonly LevelName[], trials: readonly Weighted[]): number =>
  trials.reduce((sum, one) => sum + (agree(divisions, one.divisions, levels) ? 0 : one.chance), 0)

const doubtOf = (wrong: number): number => Math.round(1e4 * Math.min(1, 2 * Math.max(LEAST_WRONG, wrong))) / 1e4
