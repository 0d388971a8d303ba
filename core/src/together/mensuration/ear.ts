/** The voices searched together as a reading does it, under divisions that are supposed of each. */
import type { VoiceId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import { workVoice, type WorkedVoice } from "../../reading/read-voice.js"
import { withPageOptions } from "../../reading/rulings.js"
import type { Assumed, ReadOptions } from "../../reading/settings.js"
import { echoesOf } from "../echoes.js"
import { Ensemble } from "../ensemble.js"
import { toTheEnd } from "../paused.js"

/** By voice of the page; undefined: as its own signs or the options have it. */
export type Supposition = readonly (Divisions | undefined)[]

/** A supposition, and what else the voices are read by. */
export interface Case {
  readonly divisions: Supposition
  readonly options: ReadOptions
}

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
export function costsOf(page: Page, cases: readonly Case[]): number[] {
  const all = cases.map(({ divisions, options }) => ensembleUnder(page, divisions, options))
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

function ensembleUnder(
  page: Page,
  divisions: Supposition,
  options: ReadOptions,
): { readonly ensemble: Ensemble; readonly members: readonly number[] } {
  const assumed = new Map<VoiceId, Assumed>(options.assumed ?? [])
  page.voices.forEach(({ id }, v) => {
    if (divisions[v] !== undefined) assumed.set(id, { ...assumed.get(id), divisions: { ...divisions[v], doubt: 0 } })
  })
  const own = withPageOptions(page, { ...options, assumed })
  const all = page.voices.map(voice => workVoice(voice, own))
  const worked = all.filter(hasFigures)
  const readings = all.map(one => one.reading)
  const ensemble = new Ensemble(worked, new Map(), { echoes: echoesOf(page, readings), after: new Map() })
  return { ensemble, members: worked.map((_, i) => i) }
}

const hasFigures = ({ settled }: WorkedVoice): boolean => settled.some(({ stretch }) => stretch.figures.length > 0)
