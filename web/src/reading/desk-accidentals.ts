/** Accidentals that the intervals ask for, as the chapter tells them and the edition shows them. Loaded when first asked for. */
import {
  alikeFicta,
  decisionPlace,
  decisionReason,
  decisionWords,
  fictaSummary,
  proposalsUpTo,
  proposeFicta,
  tellFicta,
  tellOpenFicta,
  withFicta,
  type Decision,
  type Ficta,
  type FictaGrade,
  type FictaTold,
  type Page,
  type Score,
} from "@resolutio/core"
import type { AccidentalsTold, ProposedTold } from "./told-chapters.js"

const known = new WeakMap<Score, Ficta>()

/** Proposed once for each reading. */
function proposedFor(page: Page, score: Score): Ficta {
  const old = known.get(score)
  if (old) return old
  const ficta = proposeFicta(page, score)
  known.set(score, ficta)
  return ficta
}

export function accidentalsOf(page: Page, score: Score): AccidentalsTold {
  const ficta = proposedFor(page, score)
  const told = tellFicta(page, score, ficta)
  return {
    summary: fictaSummary(ficta),
    proposals: told.map(one => proposed(one, { told, ficta, score })),
    open: tellOpenFicta(page, ficta).map(({ open, place, reason }) => ({ sign: open.sign, place, reason })),
    decided: (page.decisions ?? []).filter(isOnAccidental).map(one => ({
      decision: one.id,
      sign: one.sign,
      place: decisionPlace(page, one),
      words: decisionWords(one),
      reason: decisionReason(page, one),
    })),
  }
}

/** The score as it is sung with what is proposed, up to a grade. */
export function sungUpTo(page: Page, score: Score, grade: FictaGrade): Score {
  return withFicta(score, proposalsUpTo(proposedFor(page, score), grade))
}

const isOnAccidental = ({ accidental, notAccidental }: Decision): boolean =>
  accidental !== undefined || notAccidental !== undefined

interface All {
  readonly told: readonly FictaTold[]
  readonly ficta: Ficta
  readonly score: Score
}

function proposed(one: FictaTold, { told, ficta, score: { voices } }: All): ProposedTold {
  const { proposal, place, sung, reason, source } = one
  const along = told.filter(other => proposal.with.includes(other.proposal.note))
  const alike = alikeFicta(ficta, proposal).map(other => other.sign)
  const choices = [one, ...along].map(({ proposal: { sign, accidental, reason: why } }) => ({ sign, accidental, why }))
  const { sign, grade, rule } = proposal
  const voice = voices[proposal.voice]
  const kind = [voice?.label || voice?.n, rule.replaceAll("-", " "), sung.slice(sung.lastIndexOf(" ") + 1)]
  return { sign, place, sung, grade, reason, source, choices, alike: [...new Set(alike)], kind: kind.join(", ") }
}
