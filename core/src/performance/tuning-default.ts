/** The tuning that is taken when nobody has chosen one, and the sentence that says so. */
import { tuningTitle, type Tuning, type TuningName } from "./tuning.js"

/** Before this year pure fifths are taken, from it on pure thirds. */
export const MEANTONE_FROM = 1480

export interface TuningDefault {
  readonly tuning: TuningName
  /** For the preface of an edition, or the message after a recording. */
  readonly sentence: string
}

/**
 * By the year of the piece where it is known, else by its practice: white notation, in use from about 1430 to 1600, is
 * taken to be from after 1480. An editor's default: Pythagorean is the tuning that medieval treatises teach; tempered
 * fifths are described from the late fifteenth century on (Practica musicae, 1496, II.3, from memory).
 */
export function tuningDefault({ practice, year }: { practice: string; year?: number }): TuningDefault {
  const late = year === undefined ? practice === "white" : year >= MEANTONE_FROM
  const tuning: TuningName = late ? "meantone" : "pythagorean"
  const reason = year === undefined ? (late ? "white notation" : "this notation") : `a piece of ${year}`
  return {
    tuning,
    sentence: `Sounded in ${tuningTitle(tuning)}: an editor's default for ${reason}, as for all music ${late ? "from" : "before"} about ${MEANTONE_FROM}${late ? " on" : ""}.`,
  }
}

/** The sentence where the tuning was chosen. */
export function tuningChosen(tuning: Tuning): string {
  return `Sounded in ${tuningTitle(tuning)}, as the editor has chosen.`
}
