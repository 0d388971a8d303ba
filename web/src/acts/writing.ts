/** Acts that change the page. */
import type { App } from "../app.js"
import { indexIn, flatOf, voiceOf } from "../document/index-signs.js"
import { select, view } from "../view/view.js"
import { along } from "../view/walk.js"
import { words } from "../words/index.js"
import type { Act } from "./acts.js"

export function writingActs({ documents, readings }: Pick<App, "documents" | "readings">): Act[] {
  return [
    {
      id: "takeAway",
      group: "write",
      words: words.acts.takeAway,
      key: "Delete",
      otherKey: "Backspace",
      isOff: () => view.getState().selected === undefined,
      run: () => takeAway(documents, readings),
    },
  ]
}

/** The sign after it is selected then, or the one before. A ligature goes with its last note. */
function takeAway(documents: App["documents"], readings: App["readings"]): void {
  const { page } = documents.store.getState()
  const { selected } = view.getState()
  const voice = selected && voiceOf(page, selected)
  if (!voice) return
  const next = along(page, selected, 1) ?? along(page, selected, -1)
  const { ligature, sign } = flatOf(voice)[indexIn(voice, selected)!]!
  const gone = ligature && ligature.members.length === 1 ? ligature.id : sign.id
  const place = readings.ownTold(sign.id)?.place ?? sign.kind
  if (documents.act({ kind: "delete-sign", sign: gone }, words.steps.takenAway(place))) select(next)
}
