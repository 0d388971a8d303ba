/** What a MIDI file cannot carry. */
import { equals } from "../../base/index.js"
import { meterChanges, notate, type Score, type ValueOptions } from "../../score/index.js"
import {
  counted,
  ifAny,
  listed,
  marksOf,
  NO_EDITOR,
  notThePage,
  NOT_THE_REASONS,
  notesOf,
  openShares,
} from "../losses.js"
import { isLatin1 } from "./bytes.js"
import { keyOf, midiTime } from "./write.js"

/** Sentences, of what this score has. Throws a RangeError as `writeMidi` does. */
export function midiCannotCarry(score: Score, options: ValueOptions = {}): string[] {
  return [
    notThePage(NO_EDITOR),
    NOT_THE_REASONS,
    "Notation: which accidental a key is, who added it, rests, ties, bars, brackets of ligatures and coloration, fermatas, ids.",
    ...otherMeters(score, options),
    ...words(score),
    ...ifAny(
      marksOf(score, ["repeat-start", "repeat-end", "ending-open", "ending-closed", "refrain-start", "refrain-end"])
        .length,
      count =>
        `${counted(count, "mark")} of repeats, endings and refrains: the music is there once, as it stands (--repeats written writes it out).`,
    ),
    ...ifAny(
      marksOf(score, ["signum-congruentiae", "canon", "text", "numeral", "section"]).length,
      count => `${counted(count, "signum, rubric or other mark", "signa, rubrics and other marks")}.`,
    ),
    ...silent(score),
    ...(midiTime(score, options).exact ? [] : ["Times to the last fraction: they are put on the nearest tick."]),
    ...ifAny(
      score.voices.length > 15 ? score.voices.length : 0,
      count => `A channel for each of ${count} voices: there are 15, so some share one.`,
    ),
  ]
}

/** One track has the meters of all. */
function otherMeters(score: Score, options: ValueOptions): string[] {
  const notated = notate(score, options)
  const [first, ...others] = score.voices.map((_, voice) => meterChanges(notated, voice))
  const differ = others.flatMap((own, i) => {
    const alike =
      own.length === first?.length &&
      own.every(
        ({ at, meter }, n) =>
          equals(at, first[n]!.at) && meter.count === first[n]!.meter.count && meter.unit === first[n]!.meter.unit,
      )
    return alike ? [] : [score.voices[i + 1]!.label]
  })
  return ifAny(
    differ.length,
    () => `The meters of ${listed(differ)}: a file has one run of meters, that of ${score.voices[0]!.label}.`,
  )
}

function words(score: Score): string[] {
  const syllables = notesOf(score).flatMap(note => note.syllables)
  const texts = [
    score.title,
    ...score.voices.map(({ label }) => label),
    ...syllables.filter(({ stanza }) => stanza === 1).map(({ text }) => text),
  ]
  return [
    ...ifAny(
      new Set(syllables.map(({ stanza }) => stanza).filter(stanza => stanza !== 1)).size,
      count => `${counted(count, "further stanza")}.`,
    ),
    ...ifAny(
      texts.filter(text => !isLatin1(text)).length,
      count => `Letters outside Latin-1, in ${counted(count, "text")}.`,
    ),
  ]
}

function silent(score: Score): string[] {
  const notes = notesOf(score)
  const unheard = notes.filter(({ pitch }) => !pitch || keyOf(pitch, pitch.accidental) === null)
  return [
    ...ifAny(unheard.length, count => `${counted(count, "note")} without a pitch that has a key: silent.`),
    ...ifAny(
      notes.filter(({ plica }) => plica && !plica.pitch).length,
      count => `${counted(count, "plica")} whose pitch is left open: silent.`,
    ),
    ...openShares(notes.filter(({ plica }) => plica?.pitch)),
  ]
}
