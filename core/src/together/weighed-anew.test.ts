/** What was searched once and is weighed anew is what a search by the other weights finds. */
import { expect, test } from "vitest"
import { counterpointOf, tempered } from "../counterpoint/index.js"
import { workVoice } from "../reading/read-voice.js"
import { Likelihoods } from "./likelihoods.js"
import { toTheEnd } from "./paused.js"
import { IN_FULL, Laid, searchingTogether, type Joint } from "./search.js"
import { lawfulPiece, LAWFUL_PRACTICES } from "./testing/lawful-piece.js"
import { graphOf, scalesOf } from "./voice-graph.js"
import { KeptSearch } from "./weighed-anew.js"
import { commonUnit } from "../score/units.js"

const BY = 0.7

test.each(LAWFUL_PRACTICES)("%s: the same ways, as likely, and the same finals", practice => {
  const { page } = lawfulPiece(4, { practice, voices: 3, notes: 24, doubtful: 0.4 })
  const worked = page.voices.map(voice => workVoice(voice, {}))
  const { factor } = commonUnit(worked.map(one => one.reading))
  const scales = scalesOf(worked, one => factor(one.reading))
  const laid = new Laid(worked.map((one, i) => graphOf(one, scales[i]!)))
  const weights = counterpointOf(practice)
  const kept = new KeptSearch(laid.rows)
  const search = (by: number) => {
    const likelihoods = new Likelihoods(laid.graphs)
    const input = { laid, weights: tempered(weights, by), breadth: IN_FULL, meetings: [] }
    const joint = toTheEnd(
      searchingTogether(input, window => {
        likelihoods.add(window)
        if (by === 1) kept.add(window)
      }),
    )
    return told(joint, likelihoods)
  }
  search(1)
  const searched = search(BY)
  const anew = new Likelihoods(laid.graphs)
  expect(told(toTheEnd(kept.weighed(laid, BY, window => anew.add(window))), anew)).toEqual(searched)
})

/** To so many places as readings tell. */
function told({ chosen, cost, finals }: Joint, { found }: Likelihoods) {
  const lasting = found.map(own =>
    own.map(all =>
      all
        ?.map(one => [one.way.lasts, Math.round(1e4 * one.chance), Math.round(1e4 * one.cost)])
        .filter(one => one[1]! > 0)
        .sort((a, b) => a[0]! - b[0]!),
    ),
  )
  return { chosen: chosen.map(own => own.map(way => way.lasts)), cost: Math.round(1e6 * cost), finals, lasting }
}
