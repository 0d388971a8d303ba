/** Practice and mensuration of every voice found out from the notes themselves, the voices bearing on each other. */
import type { VoiceId } from "../../base/index.js"
import { flatSigns, type Page, type Voice } from "../../page/index.js"
import { practiceNamed, type Divisions } from "../../practices/index.js"
import type { From } from "../../reading/index.js"
import { readAlike } from "../../reading/same-options.js"
import { choosePractice, saidPractice, type Assumed, type Chosen, type ReadOptions } from "../../reading/settings.js"
import { sharedOptions } from "../shared.js"
import { countingOf, countsAlike, isGrouped, trialsOf, type Counting, type Trial } from "./candidates.js"
import { changesIn } from "./changes.js"
import { customOf } from "./custom.js"
import { contradictions } from "./declared.js"
import { evidenceFor } from "./evidence.js"
import { chancesOf, type VoiceTrials } from "./joint.js"
import { lengthsUnder } from "./lengths.js"
import { practiceFound, type PracticeFound } from "./practices.js"
import { soundsOf } from "./sounds.js"
import { sectionsOf } from "./tokens.js"
import { levelInWords } from "./words.js"
import {
  LEVEL_NAMES,
  type Candidate,
  type Evidence,
  type Found,
  type FoundPractice,
  type LevelName,
  type VoiceFound,
} from "./types.js"
import { LEAST_WRONG, LENGTHS, TEMPER } from "./weights.js"

export interface FindOptions extends ReadOptions {
  /** Every voice by itself. */
  readonly alone?: boolean
  /** Also gather what speaks for and against each candidate, changes within a voice, and what contradicts stated signs. */
  readonly evidence?: boolean
}

/** A voice at work. */
interface Work {
  readonly voice: Voice
  readonly chosen: Chosen
  readonly counting: Counting
  readonly trials: readonly Trial[]
}

/** What can be said of the practice and mensuration of every voice, stated or not. Never fails. */
export function findMensurations(page: Page, options: FindOptions = {}): Found {
  if (options.alone === true && page.voices.length > 1)
    return { voices: page.voices.flatMap(voice => findMensurations({ ...page, voices: [voice] }, options).voices) }
  const practice = practiceFound(page, options)
  const known = { ...options, assumed: practicesAssumed(page, practice) }
  const shared = options.shared ?? sharedOptions(page, known)
  const works = page.voices.map(voice => work(voice, { ...known, shared }, options.evidence === true))
  const { chances, lengths } = chancesTogether(page, works, { ...known, shared })
  const likeliest = chances.map((row, v) => lengths?.[v]?.[row.indexOf(Math.max(...row))])
  const fellows = (v: number, c: number): string[] =>
    page.voices.filter((_, o) => o !== v && likeliest[o] === lengths?.[v]?.[c]).map(voice => voice.label)
  return {
    voices: works.map((one, v) => {
      const asLong = (c: number) => (lengths?.[v]?.[c] === undefined ? undefined : fellows(v, c))
      return found(one, { chances: chances[v]!, asLong }, practice, options.evidence === true)
    }),
  }
}

/** Practice and mensuration for `ReadOptions.assumed`, of the voices that do not state them; nothing where all do. */
export function assumedFor(page: Page, options: FindOptions = {}): ReadonlyMap<VoiceId, Assumed> {
  if (page.voices.every(voice => says(voice, options))) return new Map()
  return new Map(findMensurations(page, options).voices.map(one => [one.voice, assumedOf(one)]))
}

/** What was found of a voice, for reading by it. */
export function assumedOf({ practice, divisions, doubt, doubts }: VoiceFound): Assumed {
  return {
    ...(practice.from === "inferred" ? { practice: { name: practice.name, doubt: practice.doubt } } : {}),
    divisions: { ...divisions, doubt, doubts },
  }
}

/** The voice states its practice and, before its first note, all that the practice measures by. */
function says(voice: Voice, options: ReadOptions): boolean {
  const practice = saidPractice(voice, options)
  if (practice === undefined) return false
  const stated = new Set<LevelName>()
  for (const sign of voice.signs) {
    if (sign.kind === "note" || sign.kind === "rest" || sign.kind === "ligature") break
    if (sign.kind !== "mensuration") continue
    for (const level of LEVEL_NAMES) if (sign[level] !== undefined) stated.add(level)
    if (sign.sign !== undefined || sign.letter !== undefined) stated.add("tempus").add("prolatio")
  }
  return needed(practice).every(level => stated.has(level))
}

/** In white notation a modus that nothing shows is imperfect (Tractatus de regulari valore notarum, 1470s, 10). */
function needed(practice: string): readonly LevelName[] {
  const known = practiceNamed(practice)?.name
  if (known === "white") return ["tempus", "prolatio"]
  return known === "ars-antiqua" ? ["modusMinor", "tempus"] : LEVEL_NAMES
}

function practicesAssumed(page: Page, practice: PracticeFound | undefined): ReadonlyMap<VoiceId, Assumed> {
  if (practice === undefined) return new Map()
  return new Map(page.voices.map(voice => [voice.id, { practice: { name: practice.name, doubt: practice.doubt } }]))
}

/** What was last worked out of a voice: it holds as long as the voice and the options are the same. */
const worked = new WeakMap<Voice, { readonly options: ReadOptions; readonly work: Work }>()

function work(voice: Voice, options: ReadOptions, told: boolean): Work {
  const before = told ? undefined : worked.get(voice)
  if (before !== undefined && readAlike(voice.id, before.options, options)) return before.work
  const found = workAnew(voice, options, told)
  if (!told) worked.set(voice, { options, work: found })
  return found
}

function workAnew(voice: Voice, options: ReadOptions, told: boolean): Work {
  const chosen = choosePractice(voice, flatSigns(voice), options)
  const grouped = isGrouped(chosen.practice.name, chosen.settings)
  const counting = countingOf(sectionsOf(voice, chosen, options, grouped), chosen, told)
  return { voice, chosen, counting, trials: trialsOf(counting) }
}

/** Lengths take time: they are asked for only where the measures alone leave a choice; to hear the voices takes more. */
function chancesTogether(page: Page, works: readonly Work[], options: ReadOptions): Weighed {
  const first = chancesOf(works.map(trialsFor))
  const linked = works.filter(one => !one.counting.byTempus)
  if (linked.length < 2) return first
  const settled = works.every(({ trials }, v) => isSettled(trials, first.chances[v]!))
  const lengths = settled
    ? undefined
    : works.map(({ voice, trials }, v) => lengthsUnder(voice, options, trials, first.chances[v]!))
  const tried = works.map((one, v) => ({ ...trialsFor(one), ...(lengths && { lengths: lengths[v]! }) }))
  const counted = settled ? first : chancesOf(tried)
  const sounds = soundsOf(page, works, counted.commons, options)
  return { chances: (sounds === undefined ? counted : chancesOf(tried, sounds)).chances, ...(lengths && { lengths }) }
}

/** By voice and trial. */
interface Weighed {
  readonly chances: number[][]
  readonly lengths?: readonly (readonly (string | undefined)[])[]
}

/** What the voices together say of the trials of one. */
interface Verdict {
  readonly chances: readonly number[]
  /** Labels of the voices that are as long as this one under a trial; undefined where that was not looked at. */
  readonly asLong: (trial: number) => readonly string[] | undefined
}

/** All trials that are likely at all count the notes alike, and make the voice as long. */
function isSettled(trials: readonly Trial[], chances: readonly number[]): boolean {
  const likely = trials.filter((_, c) => chances[c]! >= LENGTHS.leastChance)
  return likely.every(one => countsAlike(one, likely[0]!) && one.scale === likely[0]!.scale)
}

const trialsFor = ({ chosen, trials, counting }: Work): VoiceTrials => ({
  trials,
  byTempus: counting.byTempus,
  custom: customOf(chosen.practice.name, chosen.settings, counting.sections[0]?.stated.has("tempus") === true),
})

function found(work: Work, verdict: Verdict, practice: PracticeFound | undefined, told: boolean): VoiceFound {
  const { voice, chosen, counting, trials } = work
  const candidates = candidatesOf(work, verdict, told)
  const divisions = candidates[0]?.divisions ?? usual(chosen)
  const stated = [...(counting.sections[0]?.stated ?? [])]
  const { name } = chosen.practice
  return {
    voice: voice.id,
    label: voice.label,
    practice: practiceOf(chosen, practice),
    divisions,
    from: fromOf(name, stated),
    stated,
    doubt: trials.length > 0 ? doubtOf(1 - (candidates[0]?.chance ?? 0), trials.length) : 1,
    doubts: doubtsOf(candidates, divisions),
    candidates,
    changes: told ? changesIn(counting, trials, divisions) : [],
    problems: told ? contradictions(counting, divisions, voice.label) : [],
  }
}

const fromOf = (practice: string, stated: readonly LevelName[]): From =>
  needed(practice).every(level => stated.includes(level)) ? "given" : "inferred"

/** What a voice without a note is given. */
function usual({ practice }: Chosen): Divisions {
  const division = practice.unit === "tempus" ? 3 : 2
  return { modusMaior: 2, modusMinor: division, tempus: division, prolatio: 2 }
}

function candidatesOf(work: Work, { chances, asLong }: Verdict, told: boolean): Candidate[] {
  const { trials } = work
  const { sections } = work.counting
  const order = trials.map((_, c) => c).sort((a, b) => chances[b]! - chances[a]!)
  const best = trials[order[0]!]
  return order.map(c => {
    const one = trials[c]!
    const others = Math.log(chances[c]! / chances[order[0]!]!) - TEMPER * (one.fit - best!.fit)
    const evidence = !told ? [] : one === best ? evidenceByLevel(work, order) : evidenceFor(sections, one, best!)
    return {
      divisions: one.divisions,
      fit: round(one.fit),
      chance: chances[c]!,
      others: round(others),
      asLongAs: asLong(c),
      evidence,
    }
  })
}

/** So much is told of one level. */
const MOST_OF_LEVEL = 3

/** For each level what sets the likeliest trial apart from the likeliest with the other division. */
function evidenceByLevel({ counting, trials }: Work, order: readonly number[]): Evidence[] {
  const best = trials[order[0]!]!
  return LEVEL_NAMES.flatMap(level => {
    const rival = order.find(c => trials[c]!.divisions[level] !== best.divisions[level])
    if (rival === undefined) return []
    const told = evidenceFor(counting.sections, best, trials[rival]!).slice(0, MOST_OF_LEVEL)
    const words = levelInWords(level, best.divisions[level])
    return told.map(one => ({ ...one, level, what: `${words}: ${one.what}` }))
  })
}

function doubtsOf(candidates: readonly Candidate[], divisions: Divisions): Record<LevelName, number> {
  const wrong = (level: LevelName): number =>
    candidates.reduce((sum, one) => sum + (one.divisions[level] === divisions[level] ? 0 : one.chance), 0)
  const rivals = (level: LevelName): number => new Set(candidates.map(one => one.divisions[level])).size
  return Object.fromEntries(LEVEL_NAMES.map(level => [level, doubtOf(wrong(level), rivals(level))])) as Record<
    LevelName,
    number
  >
}

function practiceOf({ choice, settings }: Chosen, practice: PracticeFound | undefined): FoundPractice {
  const { name, from } = choice
  const candidates = from === "inferred" ? (practice?.candidates ?? []) : []
  return { name, options: settings, from, doubt: choice.doubt, candidates }
}

/** Twice the chance of being wrong; where there was no choice there is no doubt. */
const doubtOf = (wrong: number, rivals: number): number =>
  rivals < 2 ? 0 : Math.round(1e4 * Math.min(1, 2 * Math.max(LEAST_WRONG, wrong))) / 1e4

const round = (odds: number): number => (Number.isFinite(odds) ? Math.round(odds * 100) / 100 : -1e3)
