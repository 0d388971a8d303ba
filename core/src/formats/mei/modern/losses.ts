/** What modern MEI, as we write it, does not carry. */
import { conventionsWith, notatedBy, type EditionConventions } from "../../../edition/index.js"
import type { NotatedScore, Score } from "../../../score/index.js"
import {
  changedIds,
  colorationKinds,
  counted,
  finals,
  dotHandsIn,
  handsIn,
  ifAny,
  marksOf,
  NO_REASONS,
  notThePage,
  NOT_THE_REASONS,
  notesOf,
  openShares,
} from "../../losses.js"

/** Sentences, of what this score has. Throws a RangeError as `modernMei` does. */
export function modernMeiCannotCarry(given: Score, chosen: Partial<EditionConventions> = {}): string[] {
  const notated = notatedBy(given, conventionsWith(chosen))
  const { score } = notated
  return [
    notThePage(NO_REASONS),
    NOT_THE_REASONS,
    ...colorationKinds(score),
    ...ifAny(
      marksOf(score, ["signum-congruentiae"]).length,
      count => `${counted(count, "signum congruentiae", "signa congruentiae")}.`,
    ),
    ...ifAny(
      notesOf(score).filter(note => note.plica).length,
      count =>
        `The time of ${counted(count, "plica")}: as small notes they have a percentage of the note before (\`grace.time\`), which many programs overlook.`,
    ),
    ...openShares(notesOf(score)),
    ...ifAny(
      notesOf(score).filter(note => !note.pitch).length,
      count => `The pitch of ${counted(count, "note")}: none is read.`,
    ),
    ...ifAny(
      wholeSigns(notated).length,
      count =>
        `How long ${counted(count, "note")} written whole over a line ${count === 1 ? "sounds" : "sound"}, for programs that play the file: \`dur.ges\` has the share of the first bar, and \`space\` stands for the rest.`,
    ),
    ...ifAny(
      handsIn(score).length,
      count =>
        `How ${counted(count, "note or rest", "notes and rests")} of an editor ${count === 1 ? "is" : "are"} shown: in \`supplied\` and \`corr\`, around which many programs draw no brackets.`,
    ),
    ...ifAny(
      dotHandsIn(score).length,
      count =>
        `That ${counted(count, "dot")} ${count === 1 ? "is" : "are"} an editor's: only \`type\` of the note tells it.`,
    ),
    ...finals(score),
    ...changedIds(score),
  ]
}

const wholeSigns = ({ blocks }: NotatedScore) =>
  blocks.flatMap(({ layers }) => layers.flat().filter(item => item.kind === "sign" && item.share !== undefined))
