/** Slips of the pen looked for, a little at a time, so that nothing else has to wait. Loaded when it is first asked for. */
import {
  changeBetween,
  emend,
  proposing,
  showReportLine,
  type Emendation,
  type Page,
  type Proposal,
} from "@resolutio/core"
import type { EmendationTold, MendingTold } from "./told-chapters.js"

/** Milliseconds of work before others have their turn. */
const TURN = 40

/** `progress` is told how far it has come, 0 to 1, and says whether to go on. Undefined: stopped. */
export async function mendingOf(
  page: Page,
  progress: (share: number) => boolean,
  pause: () => Promise<void>,
): Promise<MendingTold | undefined> {
  const work = proposing(page)
  let until = performance.now() + TURN
  for (;;) {
    const next = work.next()
    if (next.done) return toldOf(page, next.value)
    if (performance.now() < until) continue
    const { step, done, of } = next.value
    await pause()
    // each step is about half as likely to be needed as the one before
    if (!progress(1 - 0.5 ** (step - 1) * (1 - 0.5 * (of > 0 ? done / of : 0)))) return undefined
    until = performance.now() + TURN
  }
}

const toldOf = (page: Page, { emendations, together, firstParting }: Proposal): MendingTold => ({
  emendations: emendations.flatMap(one => told(page, one)),
  fits: together && firstParting === null,
})

/** Only those that can be made on the page as it stands: later steps suppose the best of the ones before. */
function told(page: Page, emendation: Emendation): EmendationTold[] {
  const { sign, place, before, after, why, score, step } = emendation
  const made = emend(page, emendation, { why })
  if (!made.ok) return []
  const change = changeBetween(page, made.value.page)
  return [{ sign, place, before, after, why, score, step, change, report: showReportLine(made.value.line) }]
}
