/** Practice and mensuration of every voice found out from the notes themselves, the voices bearing on each other. */
import type { VoiceId } from "../../base/index.js"
import type { Page, Voice } from "../../page/index.js"
import { practiceNamed, type Divisions } from "../../practices/index.js"
import type { From } from "../../reading/index.js"
import {
  saidPractice,
  type Assumed,
  type AssumedChange,
  type Chosen,
  type ReadOptions,
} from "../../reading/settings.js"
import { weighedInPractice } from "./by-ear.js"
import { changesIn } from "./changes.js"
import { contradictions } from "./declared.js"
import { lastsAlike, sharedChances, sharesAlike } from "./likeliest.js"
import { besideFor, doubtsIn, NO_DOUBTS, rivalOf, type Beside } from "./level-doubts.js"
import { sameDivisions } from "./measures.js"
import { evidenceFor } from "./evidence.js"
import { practiceFound, type PracticeFound } from "./practices.js"
import { heardFor, type Costed } from "./sounds.js"
import { turnsFound, type Turned } from "./turned.js"
import type { Weighed, Work } from "./weighing.js"
import { levelInWords, mensurationInWords } from "./words.js"
import {
  LEVEL_NAMES,
  type Candidate,
  type Evidence,
  type Found,
  type FoundChange,
  type FoundPractice,
  type LevelName,
  type VoiceFound,
} from "./types.js"
import { APART, LEAST_WRONG, READ_OTHERWISE, TEMPER } from "./weights.js"

export interface FindOptions extends ReadOptions {
  /** Every voice by itself. */
  readonly alone?: boolean
  /** Also gather what speaks for and against each candidate, changes within a voice, and what contradicts stated signs. */
  readonly evidence?: boolean
}

/** What can be said of the practice and mensuration of every voice, stated or not. Never fails. */
export function findMensurations(page: Page, options: FindOptions = {}): Found {
  if (options.alone === true && page.voices.length > 1)
    return { voices: page.voices.flatMap(voice => findMensurations({ ...page, voices: [voice] }, options).voices) }
  const told = options.evidence === true
  const { practice, weighed, rival } = weighedInPractice(page, practiceFound(page, options), options, told)
  const { works, chances, likeliest, lengths, heard, apart } = weighed
  const turns = turnsRead(page, weighed)
  const lengthOf = likeliest.map((c, v) => lengths?.[v]?.[c ?? -1])
  const fellows = (v: number, c: number): string[] =>
    page.voices.filter((_, o) => o !== v && lengthOf[o] === lengths?.[v]?.[c]).map(voice => voice.label)
  // a voice heard apart tells more of itself than all voices under a common measure
  const heardOf = (v: number): (readonly Costed[])[] => [apart?.trials[v] ?? [], heard?.costs ?? []]
  return {
    voices: works.map((one, v) => {
      const asLong = (c: number) => (lengths?.[v]?.[c] === undefined ? undefined : fellows(v, c))
      const beside =
        rival && one.chosen.choice.from === "inferred" ? besideFor(rival, v, wholeOf(weighed, v)) : undefined
      const own = { chances: chances[v]!, likeliest: likeliest[v], asLong, heard: heardOf(v), beside, turn: turns(v) }
      return found(one, own, practice, told)
    }),
  }
}

/** The likeliest mensuration of a voice as a whole. */
function wholeOf({ works, likeliest }: Weighed, v: number): Divisions {
  const one = works[v]!
  return one.trials[likeliest[v] ?? -1]?.divisions ?? usual(one.chosen)
}

/** By voice, the turns by which it is read. */
function turnsRead(page: Page, weighed: Weighed): (voice: number) => TurnRead | undefined {
  const { works, options } = weighed
  const whole = works.map((_, v) => wholeOf(weighed, v))
  const found = turnsFound(page, works, whole, options)
  if (found === undefined) return () => undefined
  const doubt = Math.max(2 * LEAST_WRONG, Math.round(1e4 * found.doubt) / 1e4)
  return v => found.turned[v] && { ...found.turned[v], doubt }
}

/** Practice and mensuration for `ReadOptions.assumed`, of the voices that do not state them; nothing where all do. */
export function assumedFor(page: Page, options: FindOptions = {}): ReadonlyMap<VoiceId, Assumed> {
  if (page.voices.every(voice => says(voice, options))) return new Map()
  return new Map(findMensurations(page, options).voices.map(one => [one.voice, assumedOf(one)]))
}

/** What was found of a voice, for reading by it. */
export function assumedOf({ practice, divisions, doubt, candidates, changes, rival }: VoiceFound): Assumed {
  const used = changes.filter(one => one.used)
  // where a voice turns, the whole of it may go by one of its mensurations after all
  const own = [divisions, ...used.map(one => one.divisions)]
  const rivals =
    used.length > 0
      ? own
          .filter((one, i) => own.findIndex(other => sameDivisions(one, other)) === i)
          .map(one => ({ ...one, chance: used[0]!.doubt / 2 }))
      : candidates.filter(one => one.lengthens).map(one => ({ ...one.divisions, chance: one.chance }))
  return {
    ...(practice.from === "inferred" ? { practice: assumedPractice(practice, rival) } : {}),
    divisions: { ...divisions, doubt, rivals, ...(used.length > 0 && { changes: used.map(assumedChange) }) },
  }
}

const assumedChange = ({ from, divisions, doubt }: FoundChange): AssumedChange => ({ from, divisions, doubt })

function assumedPractice(
  { name, doubt, candidates }: FoundPractice,
  rival: VoiceFound["rival"],
): NonNullable<Assumed["practice"]> {
  const alike = candidates.every(one => one.name === "white" || one.name === "ars-nova")
  return { name, doubt, noteDoubt: alike ? READ_OTHERWISE * doubt : doubt, ...(rival && { rival }) }
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

/** What the voices together say of the trials of one. */
interface Verdict {
  readonly chances: readonly number[]
  readonly likeliest: number | undefined
  /** Labels of the voices that are as long as this one under a trial; undefined where that was not looked at. */
  readonly asLong: (trial: number) => readonly string[] | undefined
  /** What was heard of it, the most telling first. */
  readonly heard: readonly (readonly Costed[])[]
  /** What another practice would have of the voice. */
  readonly beside: Beside | undefined
  readonly turn: TurnRead | undefined
}

/** Turns to other mensurations by which a voice is read, and the doubt about them. */
interface TurnRead extends Turned {
  readonly doubt: number
}

function found(work: Work, verdict: Verdict, practice: PracticeFound | undefined, told: boolean): VoiceFound {
  const { voice, chosen, counting, trials } = work
  const candidates = candidatesOf(work, verdict, told)
  const divisions = verdict.turn?.plan[0]!.divisions ?? candidates[0]?.divisions ?? usual(chosen)
  const stated = [...(counting.sections[0]?.stated ?? [])]
  const { name } = chosen.practice
  const rival = verdict.beside && rivalOf(verdict.beside)
  return {
    ...(rival && { rival }),
    voice: voice.id,
    label: voice.label,
    practice: practiceOf(chosen, practice),
    divisions,
    from: fromOf(name, stated),
    stated,
    ...(trials.length > 0
      ? doubtsIn(name, candidates, verdict.beside, verdict.turn && turnedLevels(verdict.turn))
      : { doubt: 1, doubts: NO_DOUBTS }),
    candidates,
    changes: verdict.turn ? changesRead(verdict.turn) : told ? changesIn(counting, trials, divisions) : [],
    problems: told ? contradictions(counting, divisions, voice.label) : [],
  }
}

function changesRead({ voice, plan, gain, doubt }: TurnRead): FoundChange[] {
  const fit = Math.round(gain * 100) / 100
  return plan.slice(1).map(({ at, divisions }, k) => {
    const { id, number } = voice.tokens[at]!
    const next = plan[k + 2] && voice.tokens[plan[k + 2]!.at]
    const what = `From ${number} ${next ? `to ${next.number - 1}` : "on"} the notes go by ${mensurationInWords(divisions)}.`
    return { from: id, place: number, ...(next && { until: next.id }), divisions, fit, doubt, used: true, what }
  })
}

/** Levels that are as doubtful as the turns: tempus and prolation, or the modus where it turns alone. */
function turnedLevels({ plan, doubt }: TurnRead): { readonly doubt: number; readonly levels: readonly LevelName[] } {
  const isOfModus = plan.some(one => one.divisions.modusMinor !== plan[0]!.divisions.modusMinor)
  const isOfTempus = plan.some(
    ({ divisions: { tempus, prolatio } }) =>
      tempus !== plan[0]!.divisions.tempus || prolatio !== plan[0]!.divisions.prolatio,
  )
  return {
    doubt,
    levels: [...(isOfModus ? (["modusMinor"] as const) : []), ...(isOfTempus ? (["tempus", "prolatio"] as const) : [])],
  }
}

const fromOf = (practice: string, stated: readonly LevelName[]): From =>
  needed(practice).every(level => stated.includes(level)) ? "given" : "inferred"

/** What a voice without a note is given. */
function usual({ practice }: Chosen): Divisions {
  const division = practice.unit === "tempus" ? 3 : 2
  return { modusMaior: 2, modusMinor: division, tempus: division, prolatio: 2 }
}

function candidatesOf(work: Work, { chances, likeliest, asLong, heard }: Verdict, told: boolean): Candidate[] {
  const { trials } = work
  const { sections } = work.counting
  const numbers = trials.map((_, c) => c).sort((a, b) => chances[b]! - chances[a]!)
  const order = likeliest === undefined ? [] : [likeliest, ...numbers.filter(c => c !== likeliest)]
  const shared = sharedChances(work, chances)
  const best = trials[order[0]!]
  return order.map(c => {
    const one = trials[c]!
    const others = Math.log(chances[c]! / chances[order[0]!]!) - TEMPER * (one.fit - best!.fit)
    const evidence = !told ? [] : one === best ? evidenceByLevel(work, order, heard) : evidenceFor(sections, one, best!)
    return {
      divisions: one.divisions,
      fit: round(one.fit),
      chance: chances[c]!,
      shared: shared[c]!,
      others: round(others),
      lengthens: one !== best && !lastsAlike(one, best!, work.counting.grouped),
      asLongAs: asLong(c),
      evidence,
    }
  })
}

/** So much is told of one level. */
const MOST_OF_LEVEL = 3
/** A smaller difference in sound (natural logarithm of odds) is not told. */
const LEAST_HEARD = 0.2

/** For each level what sets the likeliest trial apart from the likeliest with the other division. */
function evidenceByLevel({ counting, trials }: Work, order: readonly number[], heard: Verdict["heard"]): Evidence[] {
  const best = trials[order[0]!]!
  return LEVEL_NAMES.flatMap(level => {
    const rival = order.find(c => trials[c]!.divisions[level] !== best.divisions[level])
    if (rival === undefined) return []
    const told = evidenceFor(counting.sections, best, trials[rival]!).slice(0, MOST_OF_LEVEL)
    const words = levelInWords(level, best.divisions[level])
    const other = { ...best.divisions, [level]: best.divisions[level] === 3 ? 2 : 3 }
    const isShown = trials.every(
      one => !sameDivisions(one.divisions, other) || !sharesAlike(one, best, counting.grouped),
    )
    const sounds = isShown ? byEar(heard, best.divisions, trials[rival]!.divisions) : []
    return [...told, ...sounds].map(one => ({
      ...one,
      level,
      what: `${words}: ${one.what}`,
    }))
  })
}

/**
 * A rival that was not heard says nothing. Where the voice goes with the others both ways were heard: the voice alone by the
 * rival, and all voices by it; the rival is as good as the better of them.
 */
function byEar(heard: Verdict["heard"], own: Divisions, rival: Divisions): Evidence[] {
  const [apart, common] = heard.map(one => heardFor(one, own, rival))
  const goesWithOthers = common !== undefined && common >= 0
  const better = apart === undefined ? common : goesWithOthers ? Math.min(apart, common) : apart
  if (better === undefined || Math.abs(better) < LEAST_HEARD) return []
  // so much is lost where they no longer meet, whatever they sound
  const how = Math.abs(better) >= APART.mostTogether ? "fit each other" : "sound"
  const what = `the voices ${how} ${better > 0 ? "better" : "worse"} ${how === "sound" ? "together so" : "so"}`
  return [{ rule: "sounds-together", signs: [], weight: round(better), what }]
}

function practiceOf({ choice, settings }: Chosen, practice: PracticeFound | undefined): FoundPractice {
  const { name, from } = choice
  const candidates = from === "inferred" ? (practice?.candidates ?? []) : []
  return { name, options: settings, from, doubt: choice.doubt, candidates }
}

const round = (odds: number): number => (Number.isFinite(odds) ? Math.round(odds * 100) / 100 : -1e3)
