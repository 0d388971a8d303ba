/** The best changes of a step, each tried by really reading the changed page together; which of them are shown, and in which order. */
import type { Page } from "../../page/index.js"
import { allMeet } from "../hearing.js"
import { readTogether, type Together } from "../read-together.js"
import { disagreements } from "../repeats.js"
import { CONTRADICTED } from "../mensuration/declared.js"
import type { Candidate } from "./candidates.js"
import { commonSigns } from "./common-signs.js"
import { gathered } from "./gathered.js"
import { soundOfSupplied } from "./guessed-pitch.js"
import { evidenceOf, gainOf, type Terms } from "./rank.js"
import { regretOf } from "./regret.js"
import { changedThroughout } from "./changed-page.js"
import type { Laid, Stage } from "./stage.js"
import { weighed, type Weighed } from "./weighed.js"
import {
  LEAST_EVIDENCE,
  LEAST_GAIN,
  LEAST_GAIN_OF_SHIFT,
  OTHER_PLACE_WITHIN,
  SHOWN_WITHIN,
  UNEXPLAINED,
} from "./weights.js"

/** Changes of a step that are read together, and how many of them are shown. */
const TRIED_TOGETHER = 24
/** And of each voice, whatever the other voices offer. */
const TRIED_OF_VOICE = 5
export const SHOWN = 6
/** Places among the first that are shown; changes within so many signs of each other are at one place. */
export const PLACES = 3
/** Doubt of what was found out from which on it may as well be otherwise. */
const DOUBTFUL = 0.5
const BESIDE = 2

export interface Tried extends Weighed {
  readonly page: Page
  readonly together: Together
  readonly terms: Terms
  /** By how much likelier the page is with the change (natural logarithm of odds). */
  readonly gain: number
  readonly score: number
}

export const isSame = (a: Tried, b: Tried): boolean =>
  JSON.stringify(a.candidate.edit) === JSON.stringify(b.candidate.edit)

/** Notes deny what the sign of their own voice states. */
const isContradicted = ({ readings }: Together): boolean =>
  readings.some(({ problems }) => problems.some(({ code }) => code === CONTRADICTED))

/** Signs that may be wrong in several voices alike; what they say shows only when all are changed and read together. */
const signsAlike = ({ page, laid, options }: Stage): Weighed[] =>
  commonSigns(page, laid, options).map(one =>
    weighed(one.laid, one.candidate, { saves: 0, silenced: 0, habit: one.habit, alike: 0 }),
  )

export function triedTogether(stage: Stage, weighed: readonly Weighed[], loose: boolean, step: number): Tried[] {
  const isWorth = (one: Tried): boolean => loose || isWorthTelling(one, stage.moreForShifts)
  const single = tryBest(stage, weighed).filter(isWorth)
  const amiss = loose || single.length > 0 || isContradicted(stage.together)
  const alike = step === 1 && amiss ? signsAlike(stage).flatMap(one => tryOne(stage, one)) : []
  const tried = gathered([...single, ...alike.filter(isWorth)].sort((a, b) => b.gain - a.gain))
  const top = tried[0]?.gain ?? 0
  const shown = placesFirst(tried.filter(one => one.gain > top - SHOWN_WITHIN)).slice(0, SHOWN)
  // the page as it stands is a candidate too
  const odds = tried.reduce((sum, one) => sum + Math.exp(one.gain - top), Math.exp(-Math.max(0, top)))
  return shown.map(one => ({ ...one, score: Math.round((1000 * Math.exp(one.gain - top)) / odds) / 1000 }))
}

/**
 * The likeliest places first, each with what would best mend it there, then what else might: near the place of a slip there
 * are always several ways to make up for it, which would otherwise crowd out the other places.
 */
function placesFirst(tried: readonly Tried[]): Tried[] {
  const best: Tried[] = []
  const least = (tried[0]?.gain ?? 0) - OTHER_PLACE_WITHIN
  for (const one of tried.filter(({ gain }) => gain > least))
    if (best.length < PLACES && best.every(other => !isBeside(other.candidate, one.candidate))) best.push(one)
  return [...best, ...tried.filter(one => !best.includes(one))]
}

export function isBeside(a: Candidate, b: Candidate): boolean {
  const end = ({ kind, from, to }: Candidate): number => (kind === "mensuration-missing" ? from : to)
  return a.voice === b.voice && a.from <= end(b) + BESIDE && b.from <= end(a) + BESIDE
}

const isWorthTelling = ({ terms, gain }: Tried, moreForShifts: number): boolean =>
  evidenceOf(terms) >= LEAST_EVIDENCE &&
  (terms.kind === "pitch-shifted"
    ? gain + Math.max(0, -terms.regret) >= LEAST_GAIN_OF_SHIFT + moreForShifts
    : gain >= LEAST_GAIN)

/** The best changes, each read together with the whole page; the likeliest first. */
export function tryBest(stage: Stage, weighed: readonly Weighed[]): Tried[] {
  const [best] = weighed
  if (best === undefined) return []
  const near = weighed.filter(one => one.evidence - one.price > best.evidence - best.price - SHOWN_WITHIN)
  const chosen = new Set(near.slice(0, TRIED_TOGETHER))
  for (const laid of stage.laid) for (const one of ofVoice(weighed, laid)) chosen.add(one)
  return [...chosen].flatMap(one => tryOne(stage, one)).sort((a, b) => b.gain - a.gain)
}

const ofVoice = (weighed: readonly Weighed[], laid: Laid): Weighed[] =>
  weighed.filter(one => one.laid === laid).slice(0, TRIED_OF_VOICE)

/** The changed page read together: its cost, and whether the statements of a tenor agree better. */
export function tryOne(stage: Stage, one: Weighed): Tried[] {
  const { together: before } = stage
  const { kind, voice } = one.candidate
  const alike = one.candidate.also?.some(edit => edit.voice !== voice)
  const page = changedThroughout(stage.page, one.candidate)
  if (page === undefined) return []
  // what was found out of levels that no sign states was found out by the signs that are wrong
  const together = alike ? readTogether(page, stage.unassumed) : readWith(stage, page)
  const terms: Terms = {
    kind,
    // a voice laid against others whose signs are wrong says nothing; laid against any it would not pay more than to part
    laid: alike ? Math.min(before.inFull - together.inFull, UNEXPLAINED) : one.saves,
    regret: regretOf(stage, one.candidate, page, together),
    anew: before.inFull - together.inFull + one.silenced,
    habit: one.habit,
    alike: one.alike,
    agree: disagreements(stage.page, before.readings) - disagreements(page, together.readings),
    meets: allMeet(together),
    heard: soundOfSupplied(one.candidate, one.laid, together),
    price: one.price,
  }
  return [{ ...one, page, together, terms, gain: gainOf(terms), score: 0 }]
}

/**
 * The changed page read by what was found out of its mensuration; where the voices do not meet so, and that was in doubt, it is
 * found out anew: a slip may have misled.
 */
function readWith({ options, unassumed, together: before }: Stage, page: Page): Together {
  const together = readTogether(page, options, before)
  if (allMeet(together) || !isDoubtful(before)) return together
  const other = readTogether(page, unassumed, before)
  return allMeet(other) ? other : together
}

const isDoubtful = ({ assumed }: Together): boolean =>
  [...assumed.values()].some(
    ({ practice, divisions }) => Math.max(practice?.doubt ?? 0, divisions?.doubt ?? 0) > DOUBTFUL,
  )
