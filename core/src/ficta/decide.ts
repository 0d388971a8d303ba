/** Accepting and refusing proposed accidentals, as changes of the page that can be undone and are saved with it. */
import type { SignId } from "../base/index.js"
import { idGiver, type ChosenAccidental, type Decision, type Page, type PageChange } from "../page/index.js"

/** An accidental over the note of a sign. */
export interface AccidentalChoice {
  readonly sign: SignId
  readonly accidental: ChosenAccidental
  /** The reason that is kept with the decision. */
  readonly why?: string
}
/** What all decisions made at once have in common. */
export type DecidedAs = Pick<Decision, "who" | "label">

/** The notes are sung so. Another accidental decided for one gives way; a refusal of this one is taken back. */
export function acceptFicta(page: Page, choices: readonly AccidentalChoice[], as: DecidedAs = {}): PageChange {
  const { decisions = [] } = page
  const id = idGiver(page, "decision-")
  return several(
    choices.flatMap(({ sign, accidental, why }): PageChange[] => {
      const own = decisions.filter(one => one.sign === sign)
      const old = own.find(one => one.accidental !== undefined)
      const decision: Decision = { id: old?.id ?? id(), sign, accidental, ...as, ...(why !== undefined && { why }) }
      return [
        ...own.flatMap(one => withoutRefusal(one, accidental)),
        { kind: old ? "replace-decision" : "insert-decision", decision },
      ]
    }),
  )
}

/** The notes are not sung so, and it is not proposed again. Where it was accepted that is taken back. */
export function refuseFicta(page: Page, choices: readonly AccidentalChoice[], as: DecidedAs = {}): PageChange {
  const { decisions = [] } = page
  const id = idGiver(page, "decision-")
  return several(
    choices.flatMap(({ sign, accidental, why }): PageChange[] => {
      const own = decisions.filter(one => one.sign === sign)
      if (own.some(one => one.notAccidental?.includes(accidental))) return []
      const decision: Decision = {
        id: id(),
        sign,
        notAccidental: [accidental],
        ...as,
        ...(why !== undefined && { why }),
      }
      return [
        ...own.flatMap((one): PageChange[] =>
          one.accidental === accidental ? [{ kind: "delete-decision", decision: one.id }] : [],
        ),
        { kind: "insert-decision", decision },
      ]
    }),
  )
}

function several(changes: readonly PageChange[]): PageChange {
  return { kind: "several", changes }
}

function withoutRefusal(decision: Decision, accidental: ChosenAccidental): PageChange[] {
  const { notAccidental } = decision
  if (!notAccidental?.includes(accidental)) return []
  const left = notAccidental.filter(one => one !== accidental)
  if (left.length === 0) return [{ kind: "delete-decision", decision: decision.id }]
  return [{ kind: "replace-decision", decision: { ...decision, notAccidental: left } }]
}
