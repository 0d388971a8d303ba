/** What MusicXML cannot carry. */
import { conventionsWith, notatedBy, type EditionConventions } from "../../edition/index.js"
import { type NotatedScore, type NotatedSign, type Score } from "../../score/index.js"
import {
  changedIds,
  colorationKinds,
  counted,
  finals,
  dotHandsIn,
  handsIn,
  ifAny,
  NO_REASONS,
  notThePage,
  NOT_THE_REASONS,
  notesOf,
  openShares,
} from "../losses.js"
import { divisionsOf } from "./divisions.js"
import { accidentalName, typeName } from "./names.js"
import { isWritable } from "./notes.js"
import { notatedForFile } from "./whole.js"

/** Sentences, of what this score has. Throws a RangeError as `writeMusicXml` does. */
export function musicXmlCannotCarry(given: Score, chosen: Partial<EditionConventions> = {}): string[] {
  const conventions = conventionsWith(chosen)
  const notated = notatedForFile(given, conventions)
  const { score } = notated
  return [
    notThePage(NO_REASONS),
    NOT_THE_REASONS,
    ...colorationKinds(score),
    ...barsThatDiffer(notated),
    ...linesBetween(given, conventions, notated),
    ...longFinals(notated, conventions),
    ...plicas(score),
    ...hands(score, conventions),
    ...finals(score),
    ...odd(score),
    ...tooShort(notated),
    ...changedIds(score),
  ]
}

/** A measure of the file is one for all parts: it goes to the next line that all voices share. */
function barsThatDiffer({ blocks, score }: NotatedScore): string[] {
  const own = blocks.filter(
    ({ layers, shared }) => !shared || layers.some(layer => layer.some(({ kind }) => kind === "line")),
  )
  return ifAny(
    score.voices.length > 1 ? own.length : 0,
    count =>
      `Measures of each voice by itself: ${counted(count, "measure")} of the file ${count === 1 ? "holds" : "hold"} several bars or parts of bars, with lines inside; a program that measures them by the meter may complain.`,
  )
}

/** A measure goes on where a note written whole sounds over its end. */
function linesBetween(given: Score, conventions: EditionConventions, { blocks }: NotatedScore): string[] {
  const all = notatedBy(given, conventions).blocks.length
  return ifAny(
    Math.max(0, all - blocks.length),
    count =>
      `${counted(count, "line")} that notes written whole sound over: the measure goes on to the next that none does; a program that measures it by the meter may complain.`,
  )
}

/** Readers would measure it by its shape. */
function longFinals({ score }: NotatedScore, { finals: shape }: EditionConventions): string[] {
  const held = score.voices.flatMap(voice => voice.events.filter(event => event.kind === "note" && event.held))
  return ifAny(
    shape === "long" ? held.length : 0,
    count => `The shape of ${counted(count, "final")} written as one long note: here in its time, under a fermata.`,
  )
}

/** Square brackets are there as `level`, which is little known. */
function hands(score: Score, { supplied }: EditionConventions): string[] {
  const all = handsIn(score)
  const rests = all.filter(({ kind }) => kind === "rest").length
  return [
    ...ifAny(
      supplied === "brackets" ? all.length - rests : 0,
      count =>
        `Square brackets around ${counted(count, "note")} of an editor: the file asks for them (\`level\`), and for parentheses around the ${count === 1 ? "head" : "heads"}, which more programs draw.`,
    ),
    ...ifAny(
      supplied === "none" ? 0 : rests,
      count =>
        `How ${counted(count, "rest")} of an editor ${count === 1 ? "is" : "are"} shown: most programs overlook \`level\`.`,
    ),
    ...ifAny(
      supplied === "none" ? 0 : dotHandsIn(score).length,
      count => `Square brackets around ${counted(count, "dot")} of an editor.`,
    ),
  ]
}

function plicas(score: Score): string[] {
  const notes = notesOf(score)
  return [
    ...ifAny(
      notes.filter(note => note.plica).length,
      count =>
        `The time of ${counted(count, "plica")}: as small notes they take a percentage, which many programs overlook, from the note before.`,
    ),
    ...openShares(notes),
  ]
}

function odd(score: Score): string[] {
  const notes = notesOf(score)
  const shown = notes.flatMap(note => [note.pitch?.accidental, note.written?.accidental]).filter(Boolean)
  return [
    ...ifAny(
      notes.filter(note => !isWritable(note.pitch)).length,
      count => `The pitch of ${counted(count, "note")}: none is read, or it lies outside octaves 0 to 9.`,
    ),
    ...ifAny(
      shown.filter(one => !accidentalName(one!)).length,
      count => `${counted(count, "accidental")} that MusicXML has no name for.`,
    ),
  ]
}

function tooShort(notated: NotatedScore): string[] {
  const signs = notated.blocks.flatMap(({ layers }) =>
    layers
      .flat()
      .flatMap((item): readonly NotatedSign[] =>
        item.kind === "tuplet" ? item.signs : item.kind === "sign" ? [item] : [],
      ),
  )
  const divisions = divisionsOf(notated)
  return [
    ...ifAny(
      signs.filter(({ value }) => !typeName(value.dur)).length,
      count => `The shape of ${counted(count, "sign")} shorter than a 1024th: only the duration is there.`,
    ),
    ...(divisions.exact
      ? []
      : [`Times to the last fraction: they are rounded to a ${divisions.perQuarter}th of a quarter note.`]),
  ]
}
