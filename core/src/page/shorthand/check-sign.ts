/** What can be typed but cannot stand on a page: it is reported and left out, so that no page holds it. */
import type { SignDraft } from "./heads.js"
import type { Reporter } from "./reporter.js"

export interface Placed {
  readonly draft: SignDraft
  /** Where it begins in the text. */
  readonly at: number
}

/** A note, rest or other sign as it stands by itself; undefined when nothing of it is left. */
export function checkedSign({ draft, at }: Placed, report: Reporter): SignDraft | undefined {
  if (draft.kind === "rest") return checkedRest(draft, at, report)
  if (draft.kind !== "note") return draft
  let note = draft
  if (note.duplex && note.level !== "longa") {
    report.error(
      at,
      "not-a-longa",
      "Only a longa can be duplex.",
      "Write the level L before it, or :wide for a broad head.",
    )
    note = without(note, "duplex")
  }
  if (note.accidentalByEditor && note.accidental === undefined) {
    report.error(at, "no-accidental", "There is no accidental that could be the editor's.", "Write it as in b+f3.")
    note = without(note, "accidentalByEditor")
  }
  return note
}

function checkedRest(draft: SignDraft, at: number, report: Reporter): SignDraft | undefined {
  if (draft.level !== undefined || draft.spaces !== undefined) return draft
  report.error(
    at,
    "no-level",
    "This rest has neither a level nor a length.",
    "Write the level before it (B r) or in it (rB), or its length in spaces (r1).",
  )
  return undefined
}

/** A note outside a ligature begins no oblique body. */
export function checkedAlone(placed: Placed, report: Reporter): SignDraft | undefined {
  const draft = checkedSign(placed, report)
  return draft?.oblique ? reportOblique({ ...placed, draft }, report) : draft
}

/** The members of a ligature: an oblique body ends on the note right after the one on which it begins. */
export function checkedMembers(members: readonly Placed[], report: Reporter): Placed[] {
  const kept: Placed[] = []
  for (const { draft, at } of members) {
    const checked = checkedSign({ draft, at }, report)
    if (checked) kept.push({ draft: checked, at })
  }
  let within = false
  return kept.map((member, index) => {
    if (!member.draft.oblique) {
      within = false
      return member
    }
    const possible = !within && kept[index + 1]?.draft.kind === "note"
    within = possible
    return possible ? member : { ...member, draft: reportOblique(member, report) }
  })
}

function reportOblique({ draft, at }: Placed, report: Reporter): SignDraft {
  report.error(
    at,
    "no-oblique-body",
    "No oblique body can begin on this note.",
    "Write _ after a note in a ligature that another note follows, as in [g_ e f].",
  )
  return without(draft, "oblique")
}

function without(draft: SignDraft, key: string): SignDraft {
  const { [key]: _, ...rest } = draft
  return rest as SignDraft
}
