/** A score as MusicXML 4.0 (W3C Community Group Final Report, June 2021), part by part. */
import { toText } from "../../base/index.js"
import { barsFor, conventionsWith, valuesBy, type EditionConventions } from "../../edition/index.js"
import {
  quartersPerMinute,
  repeatsOf,
  usualReduction,
  type Score,
  type ScoreVoice,
  type ValueOptions,
} from "../../score/index.js"
import { element, xmlDocument, type XmlElement } from "../xml.js"
import { divisionsOf } from "./divisions.js"
import { fileIds, type FileIds } from "./ids.js"
import { measuresOf, type FileContext } from "./part.js"
import { notatedForFile } from "./whole.js"

/**
 * The text of the file, by these conventions and the usual ones for the rest. Throws a RangeError for a reduction that is no
 * power of two up to 32.
 */
export function writeMusicXml(given: Score, chosen: Partial<EditionConventions> = {}): string {
  const conventions = conventionsWith(chosen)
  const options = valuesBy(conventions)
  const notated = notatedForFile(given, conventions)
  const { score } = notated
  const ids = fileIds(score)
  const bars = barsFor(conventions, score)
  const file: FileContext = {
    notated,
    conventions,
    ids,
    divisions: divisionsOf(notated),
    repeats: repeatsOf(notated),
    speed: quartersPerMinute(score, options),
  }
  // A score without voices still has a part: MusicXML knows no score of none.
  const parts = score.voices.length > 0 ? score.voices.map(voice => voice.label) : [""]
  const partIds = parts.map((_, i) => ids.free(`P${i + 1}`))
  return xmlDocument(
    element(
      "score-partwise",
      { version: "4.0" },
      element("work", {}, element("work-title", {}, score.title)),
      identification(score, options),
      partList(score.voices, parts, partIds, ids, GROUP_LINES[bars]),
      ...partIds.map((id, voice) =>
        element(
          "part",
          { id },
          ...(score.voices[voice] ? measuresOf(file, voice) : [element("measure", { number: 1 })]),
        ),
      ),
    ),
  )
}

function identification(score: Score, options: ValueOptions): XmlElement {
  const field = (name: string, text: string) => element("miscellaneous-field", { name }, text)
  const supports = (name: string, type: "yes" | "no") => element("supports", { element: name, type })
  const shared = score.sharedProportion
  return element(
    "identification",
    {},
    element(
      "encoding",
      {},
      element("software", {}, "Resolutio"),
      element("encoding-description", {}, "A modern score made from the signs of the page."),
      supports("accidental", "yes"),
      supports("beam", "yes"),
    ),
    element(
      "miscellaneous",
      {},
      field("reduction of values", `1:${options.reduction ?? usualReduction(score.practice)}`),
      shared.num === shared.den ? undefined : field("proportion of all voices, cancelled", toText(shared)),
      score.equivalence === null ? undefined : field("units of the voices", score.equivalence),
    ),
  )
}

/** Where the group has lines: on each staff by itself, through all staves, or only between them. */
const GROUP_LINES: Readonly<Record<EditionConventions["bars"], string>> = {
  own: "no",
  full: "no",
  through: "yes",
  between: "Mensurstrich",
  ticks: "no",
}

function partList(
  voices: readonly ScoreVoice[],
  names: readonly string[],
  partIds: readonly string[],
  ids: FileIds,
  groupLines: string,
): XmlElement {
  const grouped = voices.length > 1
  return element(
    "part-list",
    {},
    grouped
      ? element(
          "part-group",
          { type: "start", number: 1 },
          element("group-symbol", {}, "bracket"),
          element("group-barline", {}, groupLines),
        )
      : undefined,
    ...partIds.map((id, voice) => scorePart(id, names[voice]!, voice, ids)),
    grouped ? element("part-group", { type: "stop", number: 1 }) : undefined,
  )
}

/** General MIDI's choir, numbered from 1; the tenth channel is for drums. */
const CHOIR = 53

function scorePart(id: string, name: string, voice: number, ids: FileIds): XmlElement {
  const instrument = ids.free(`${id}-I1`)
  const channel = (voice % 15) + 1
  return element(
    "score-part",
    { id },
    element("part-name", {}, name),
    element("score-instrument", { id: instrument }, element("instrument-name", {}, "Voice")),
    element(
      "midi-instrument",
      { id: instrument },
      element("midi-channel", {}, String(channel >= 10 ? channel + 1 : channel)),
      element("midi-program", {}, String(CHOIR)),
    ),
  )
}
