/** The voices searched together as a reading does it, under divisions that are supposed of each. */
import type { VoiceId } from "../../base/index.js"
import type { Page, Voice } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import { workVoice, type WorkedVoice } from "../../reading/read-voice.js"
import { withPageOptions } from "../../reading/rulings.js"
import type { Assumed, AssumedChange, ReadOptions } from "../../reading/settings.js"
import { echoesOf } from "../echoes.js"
import { Ensemble } from "../ensemble.js"
import { toTheEnd } from "../paused.js"

/** By voice of the page; undefined: as its own signs or the options have it. */
export type Supposition = readonly ((Divisions & { readonly changes?: readonly AssumedChange[] }) | undefined)[]

/** A supposition, and what else the voices are read by. */
export interface Case {
  readonly divisions: Supposition
  readonly options: ReadOptions
}

/** Voices worked under a supposition, by what else they are read by: in several cases most of them are the same. */
export type WorkedBefore = WeakMap<ReadOptions, Map<Voice, Map<string, WorkedVoice>>>

/** What the search of all voices costs under each supposition; `costsOf`. */
export const costsUnder = (page: Page, suppositions: readonly Supposition[], options: ReadOptions): number[] =>
  costsOf(
    page,
    suppositions.map(divisions => ({ divisions, options })),
  )

/**
 * What the search of all voices costs in each case (natural logarithm of odds, lower is likelier). A voice that fits the
 * others in none of several is left out of all in a short piece, so that it disturbs none; a long piece is heard at a glance.
 */
export function costsOf(page: Page, cases: readonly Case[], known: WorkedBefore = new WeakMap()): number[] {
  const all = cases.map(one => ensembleUnder(page, one, known))
  const found = all.map(({ ensemble, members }) => ensemble.heard(members))
  const costs = found.map(({ joint }, i) => joint.cost + all[i]!.ensemble.ownCost)
  const [first] = all
  // one case has nothing to be compared with; and in a long piece one voice spoils little
  if (first === undefined || all.length < 2 || first.members.length < 3 || first.ensemble.takesLong) return costs
  if (found.some((one, i) => all[i]!.ensemble.meeting(one).length === first.members.length)) return costs
  const { members } = toTheEnd(first.ensemble.searchingWithout(first.members, found[0]!))
  if (members.length < 2 || members.length === first.members.length) return costs
  return all.map(({ ensemble }) => ensemble.heard(members).joint.cost + ensemble.ownCost)
}

/** What voices give up of their own rules to fit each other in a case (natural logarithm of odds); Infinity where not all meet even so. */
export function strainUnder(page: Page, one: Case, known: WorkedBefore): number {
  const { ensemble, members } = ensembleUnder(page, one, known)
  const found = ensemble.heard(members)
  if (ensemble.meeting(found).length < members.length) return Infinity
  return found.joint.chosen.flat().reduce((sum, way) => sum + way.cost, 0)
}

/** `costsOf` without each of the voices in turn: by voice that is left out, what each case costs the others. */
export const costsWithoutEach = (page: Page, cases: readonly Case[], known: WorkedBefore): number[][] =>
  page.voices.map((_, out) => {
    const isLeft = (__: unknown, v: number): boolean => v !== out
    const left = cases.map(one => ({ ...one, divisions: one.divisions.filter(isLeft) }))
    return costsOf({ ...page, voices: page.voices.filter(isLeft) }, left, known)
  })

function ensembleUnder(
  page: Page,
  { divisions, options }: Case,
  known: WorkedBefore,
): { readonly ensemble: Ensemble; readonly members: readonly number[] } {
  const own = withPageOptions(page, options)
  let before = known.get(options)
  if (before === undefined) known.set(options, (before = new Map()))
  const all = page.voices.map((voice, v) => {
    const ofVoice = before.get(voice) ?? new Map<string, WorkedVoice>()
    before.set(voice, ofVoice)
    const key = JSON.stringify(divisions[v] ?? null)
    const worked = ofVoice.get(key) ?? workVoice(voice, supposing(own, voice.id, divisions[v]))
    ofVoice.set(key, worked)
    return worked
  })
  const worked = all.filter(hasFigures)
  const readings = all.map(one => one.reading)
  const ensemble = new Ensemble(worked, new Map(), { echoes: echoesOf(page, readings), after: new Map() })
  return { ensemble, members: worked.map((_, i) => i) }
}

function supposing(options: ReadOptions, voice: VoiceId, divisions: Supposition[number]): ReadOptions {
  if (divisions === undefined) return options
  const assumed = new Map<VoiceId, Assumed>(options.assumed ?? [])
  return { ...options, assumed: assumed.set(voice, { ...assumed.get(voice), divisions: { ...divisions, doubt: 0 } }) }
}

const hasFigures = ({ settled }: WorkedVoice): boolean => settled.some(({ stretch }) => stretch.figures.length > 0)
