/**
 * Going through the accidentals that are proposed, accepting and refusing them. Loaded with the first such act. Keys that come
 * faster than the voices are read are answered one after the other, each by the reading that the one before has led to.
 */
import { acceptFicta, personNamed, refuseFicta, type Page, type PageChange } from "@resolutio/core"
import type { App } from "../app.js"
import { editorName } from "../keep/editor-name.js"
import type { ProposedTold } from "../reading/told-chapters.js"
import { lookAt, view } from "../view/view.js"
import { chapterWords } from "../words/chapters.js"

const words = chapterWords.accidentals

export type Verdict = "accepted" | "refused"
type Parts = Pick<App, "documents" | "readings">

let last: Promise<void> = Promise.resolve()
function inTurn(step: () => Promise<void>): Promise<void> {
  last = last.then(step).catch(() => undefined)
  return last
}

/** To the next that is proposed, from where one stands; round at the end. */
export const toNext = ({ readings }: Parts, by: 1 | -1): Promise<void> =>
  inTurn(async () => {
    const { proposals } = await readings.accidentals()
    if (proposals.length === 0) return
    const at = indexOfSelected(proposals)
    const next = at < 0 ? (by > 0 ? 0 : proposals.length - 1) : (at + by + proposals.length) % proposals.length
    lookAt(proposals[next]!.sign)
  })

/**
 * Decides on the one that is selected and goes to the next; what can only be sung with it is accepted with it. `alike`: on all that
 * are proposed in the same voice for the same reason, as one step.
 */
export const decide = ({ documents, readings }: Parts, verdict: Verdict, alike = false): Promise<void> =>
  inTurn(async () => {
    const { proposals } = await readings.accidentals()
    const at = indexOfSelected(proposals)
    const one = proposals[at]
    if (view.getState().supposed) return
    // nothing is decided unseen
    if (!one) return proposals[0] && lookAt(proposals[0].sign)
    const all = alike ? proposals.filter(({ sign }) => one.alike.includes(sign)) : [one]
    const change = changeFor(documents.store.getState().page, all, verdict)
    const what = all.length === 1 ? `${one.place}, ${one.sung}` : words.alike(all.length, one.kind)
    if (!documents.act(change, words.step[verdict](what))) return
    if (all.length > 1) view.setState({ said: words.said[verdict](what) })
    const left = new Set((await readings.accidentals()).proposals.map(({ sign }) => sign))
    const next = [...proposals.slice(at + 1), ...proposals.slice(0, at)].find(({ sign }) => left.has(sign))
    if (next) lookAt(next.sign)
  })

const indexOfSelected = (proposals: readonly ProposedTold[]): number =>
  proposals.findIndex(({ sign }) => sign === view.getState().selected)

function changeFor(page: Page, proposals: readonly ProposedTold[], verdict: Verdict): PageChange {
  const named = personNamed(page, editorName())
  const as = named ? { who: named.id } : {}
  const wanted = proposals.flatMap(({ choices }) => (verdict === "accepted" ? choices : choices.slice(0, 1)))
  // one may be asked for by several
  const choices = [
    ...new Map(wanted.toReversed().map(one => [`${one.sign} ${one.accidental}`, one])).values(),
  ].reverse()
  const change = (verdict === "accepted" ? acceptFicta : refuseFicta)(page, choices, as)
  return named?.change ? { kind: "several", changes: [named.change, change] } : change
}
