/** A score as MusicXML 4.0 (W3C Community Group Final Report, June 2021), part by part. */
import { toText } from "../../base/index.js"
import {
  notate,
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

export interface MusicXmlOptions extends ValueOptions {
  /**
   * Where bar lines are drawn: on each staff by itself ("no", unless said otherwise), through all staves ("yes"), or only
   * between them ("Mensurstrich").
   */
  readonly groupBarline?: "no" | "yes" | "Mensurstrich"
}

/** The text of the file. Throws a RangeError for a reduction that is no power of two up to 32. */
export function writeMusicXml(score: Score, options: MusicXmlOptions = {}): string {
  const notated = notate(score, options)
  const ids = fileIds(score)
  const file: FileContext = {
    notated,
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
      partList(score.voices, parts, partIds, ids, options),
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

function partList(
  voices: readonly ScoreVoice[],
  names: readonly string[],
  partIds: readonly string[],
  ids: FileIds,
  options: MusicXmlOptions,
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
          element("group-barline", {}, options.groupBarline ?? "no"),
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
