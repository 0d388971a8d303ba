/** Proposals as they are told to a person: where, what is sung, and why, in sentences. */
import type { SignId } from "../base/index.js"
import { ACCIDENTAL_WORDS, shortPlace, type ChosenAccidental, type Page } from "../page/index.js"
import type { Score } from "../score/index.js"
import {
  FICTA_GRADES,
  type Ficta,
  type FictaGrade,
  type FictaOpen,
  type FictaProposal,
  type FictaRule,
} from "./types.js"

/** A proposal in words. */
export interface FictaTold {
  readonly proposal: FictaProposal
  /** "tenor 2". */
  readonly place: string
  /** "b flat". */
  readonly sung: string
  /** One sentence; another says which notes go with it. */
  readonly reason: string
  /** "Ars nova, c. 1320, chapter 14". */
  readonly source: string
}

/** A place that is left as it stands, in words. */
export interface FictaOpenTold {
  readonly open: FictaOpen
  readonly place: string
  readonly reason: string
}

/** All proposals in words, in their order. `page` and `score` are those for which they were made. */
export function tellFicta(page: Page, score: Score, { proposals }: Pick<Ficta, "proposals">): FictaTold[] {
  const notes = notesOf(score)
  const place = (sign: SignId): string => shortPlace(page, sign) ?? sign
  return proposals.map(proposal => {
    const { reason, source, with: others } = proposal
    const along = others.map(note => place(notes.get(note)?.sign ?? note)).join(", ")
    return {
      proposal,
      place: place(proposal.sign),
      sung: sungAs(notes.get(proposal.note)?.step, proposal.accidental),
      reason: along === "" ? reason : `${reason} With ${along}.`,
      source: `${source.treatise}, ${source.place}`,
    }
  })
}

/** "b flat"; the letter is left out where the note has no pitch. */
const sungAs = (step: string | undefined, accidental: ChosenAccidental): string =>
  step === undefined ? ACCIDENTAL_WORDS[accidental] : `${step} ${ACCIDENTAL_WORDS[accidental]}`

/** Places that are left as they stand, in words; only those where something impure stays, unless all are asked for. */
export function tellOpenFicta(page: Page, { open }: Pick<Ficta, "open">, all = false): FictaOpenTold[] {
  return open
    .filter(one => all || NEEDS.has(one.rule))
    .map(one => ({ open: one, place: shortPlace(page, one.sign) ?? one.sign, reason: one.reason }))
}

/** Rules of which it is worth a line that they are broken. */
const NEEDS: ReadonlySet<FictaRule> = new Set<FictaRule>([
  "repeated-note",
  "false-octave",
  "false-fifth",
  "false-fourth",
])

/** Those proposed in the same voice for the same reason, this one among them: whoever does not sing one of them so will not sing the others. */
export function alikeFicta({ proposals }: Pick<Ficta, "proposals">, to: FictaProposal): FictaProposal[] {
  const { voice, rule, accidental } = to
  return proposals.filter(one => one.voice === voice && one.rule === rule && one.accidental === accidental)
}

/** "Proposed: 1 required, 2 likely."; a grade of which there is none is left out. */
export function fictaSummary({ proposals }: Pick<Ficta, "proposals">): string {
  if (proposals.length === 0) return "Nothing is proposed."
  const count = (grade: FictaGrade) => proposals.filter(one => one.grade === grade).length
  const told = FICTA_GRADES.flatMap(grade => (count(grade) > 0 ? [`${count(grade)} ${grade}`] : []))
  return `Proposed: ${told.join(", ")}.`
}

function notesOf({ voices }: Score): ReadonlyMap<SignId, { readonly sign: SignId; readonly step: string | undefined }> {
  const notes = new Map<SignId, { readonly sign: SignId; readonly step: string | undefined }>()
  for (const { events } of voices)
    for (const event of events)
      if (event.kind === "note") notes.set(event.id, { sign: event.sign, step: event.pitch?.step })
  return notes
}
