/** Acts on the accidentals that are proposed: their chapter's keys. */
import { FICTA_GRADES, type FictaGrade } from "@resolutio/core"
import type { App } from "../app.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"
import type { Act } from "./acts.js"

const load = () => import("../accidentals/deciding.js")
const isElsewhere = (): boolean => view.getState().chapter !== "accidentals"

type Parts = Pick<App, "documents" | "readings">

export function accidentalActs(parts: Parts): Act[] {
  const { acts } = words
  const isOff = () => isElsewhere() || view.getState().supposed !== undefined
  const decide = (id: "accept" | "refuse" | "acceptAlike" | "refuseAlike", key: string): Act => ({
    id,
    group: "ask",
    words: acts[id],
    key,
    isOff,
    run: () =>
      void load().then(one =>
        one.decide(parts, id.startsWith("accept") ? "accepted" : "refused", id.endsWith("Alike")),
      ),
  })
  return [
    decide("accept", "y"),
    decide("refuse", "u"),
    decide("acceptAlike", "Shift+Y"),
    decide("refuseAlike", "Shift+U"),
    { id: "editionAccidentals", group: "see", words: acts.editionAccidentals, key: "Shift+A", run: showMore },
  ]
}

/** To the next or the one before of the proposals, where their chapter is open; false: it is not. */
export function stepsOn(parts: Parts, by: 1 | -1): boolean {
  if (isElsewhere()) return false
  void load().then(one => one.toNext(parts, by))
  return true
}

/** None, then grade after grade. */
function showMore(): void {
  const { accidentals, open } = view.getState()
  const at = accidentals === undefined ? -1 : FICTA_GRADES.indexOf(accidentals)
  view.setState({ open: open.includes("edition") ? open : [...open.slice(-1), "edition"] })
  showUpTo(FICTA_GRADES[at + 1])
}

/** So strongly proposed accidentals stand over the edition's notes, and those that are stronger. */
export function showUpTo(accidentals: FictaGrade | undefined): void {
  view.setState({ accidentals, said: words.bands.edition.accidentals[accidentals ?? "none"] })
}
