/** Accidentals that the intervals ask for, as the chapter tells them and the edition shows them. Loaded when first asked for. */
import {
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
  type FictaProposal,
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
    proposals: told.map(one => proposed(one, told, score)),
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

function proposed(one: FictaTold, all: readonly FictaTold[], { voices }: Score): ProposedTold {
  const { proposal, place, sung, reason, source } = one
  const along = all.filter(other => proposal.with.includes(other.proposal.note))
  const alike = all.filter(other => isAlike(other.proposal, proposal)).map(other => other.proposal.sign)
  const choices = [one, ...along].map(({ proposal: { sign, accidental, reason: why } }) => ({ sign, accidental, why }))
  const { sign, grade, rule } = proposal
  const voice = voices[proposal.voice]
  const kind = [voice?.label || voice?.n, rule.replaceAll("-", " "), sung.slice(sung.lastIndexOf(" ") + 1)]
  return { sign, place, sung, grade, reason, source, choices, alike: [...new Set(alike)], kind: kind.join(", ") }
}

/** Of the same voice, for the same reason: whoever does not sing one of them so will not sing the others. */
const isAlike = (a: FictaProposal, b: FictaProposal): boolean =>
  a.voice === b.voice && a.rule === b.rule && a.accidental === b.accidental
