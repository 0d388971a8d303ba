/** What modern MEI, as we write it, does not carry. */
import { conventionsWith, notatedBy, type EditionConventions } from "../../../edition/index.js"
import type { Score } from "../../../score/index.js"
import {
  changedIds,
  colorationKinds,
  counted,
  finals,
  ifAny,
  marksOf,
  NOT_THE_PAGE,
  NOT_THE_REASONS,
  notesOf,
} from "../../losses.js"

/** Sentences, of what this score has. Throws a RangeError as `modernMei` does. */
export function modernMeiCannotCarry(given: Score, chosen: Partial<EditionConventions> = {}): string[] {
  const notated = notatedBy(given, conventionsWith(chosen))
  const { score } = notated
  return [
    NOT_THE_PAGE,
    NOT_THE_REASONS,
    ...colorationKinds(score),
    ...ifAny(
      marksOf(score, ["signum-congruentiae"]).length,
      count => `${counted(count, "signum congruentiae", "signa congruentiae")}.`,
    ),
    ...ifAny(
      notesOf(score).filter(note => note.plica?.duration).length,
      count => `The time of ${counted(count, "plica")}: as small notes they take none from the note before.`,
    ),
    ...ifAny(
      notesOf(score).filter(note => !note.pitch).length,
      count => `The pitch of ${counted(count, "note")}: none is read.`,
    ),
    ...finals(score),
    ...changedIds(score),
  ]
}
