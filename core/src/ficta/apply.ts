/** The score as it is sung with what is proposed. */
import type { SignId } from "../base/index.js"
import type { Score, ScoreEvent } from "../score/index.js"
import { FICTA_GRADES, type Ficta, type FictaGrade, type FictaProposal } from "./types.js"

/** Those of a grade and all that are stronger. */
export function proposalsUpTo({ proposals }: Ficta, grade: FictaGrade): FictaProposal[] {
  const least = FICTA_GRADES.indexOf(grade)
  return proposals.filter(one => FICTA_GRADES.indexOf(one.grade) <= least)
}

/** The notes are sung with these accidentals, which stand over them as an editor's do. */
export function withFicta(score: Score, proposals: readonly FictaProposal[]): Score {
  if (proposals.length === 0) return score
  const byNote = new Map<SignId, FictaProposal>(proposals.map(one => [one.note, one]))
  const sung = (event: ScoreEvent): ScoreEvent => {
    const proposal = event.kind === "note" ? byNote.get(event.id) : undefined
    if (event.kind !== "note" || !proposal || !event.pitch) return event
    const accidental = proposal.accidental === "n" ? "" : proposal.accidental
    return {
      ...event,
      pitch: { ...event.pitch, accidental },
      written: { accidental: proposal.accidental, byEditor: true },
    }
  }
  return { ...score, voices: score.voices.map(voice => ({ ...voice, events: voice.events.map(sung) })) }
}
