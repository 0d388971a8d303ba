/** A score as modern MEI 5.1 (common notation): what an engraver draws. */
import { toNumber, toText } from "../../../base/index.js"
import {
  notate,
  quartersPerMinute,
  usualReduction,
  type Meter,
  type NotatedBlock,
  type NotatedScore,
  type Score,
  type ScoreVoice,
  type ValueOptions,
} from "../../../score/index.js"
import { element, xmlDocument, type XmlElement } from "../../xml.js"
import { clefElement, clefFor, keySignature } from "./clefs.js"
import { layerContent, type VoiceContext } from "./layer.js"
import { bracketsByStart, marksOf } from "./marks.js"
import { versesOf } from "./verses.js"

const STEPS = ["c", "d", "e", "f", "g", "a", "b"] as const

/** The text of the file. Throws a RangeError for a reduction that is no power of two up to 32. */
export function modernMei(score: Score, options: ValueOptions = {}): string {
  const notated = notate(score, options)
  return xmlDocument(
    element(
      "mei",
      { xmlns: "http://www.music-encoding.org/ns/mei", meiversion: "5.1" },
      head(score, options),
      element(
        "music",
        {},
        element("body", {}, element("mdiv", {}, element("score", {}, scoreDef(notated, options), section(notated)))),
      ),
    ),
  )
}

function head(score: Score, options: ValueOptions): XmlElement {
  const reduction = options.reduction ?? usualReduction(score.practice)
  const scale = `Note values are reduced 1:${reduction}${score.sharedProportion.num === score.sharedProportion.den ? "" : `; the proportion ${toText(score.sharedProportion)} that all voices share is cancelled`}.`
  return element(
    "meiHead",
    {},
    element(
      "fileDesc",
      {},
      element("titleStmt", {}, element("title", {}, score.title)),
      element("pubStmt", {}, element("unpub", {}, "A modern score made from the signs of the page.")),
    ),
    element(
      "encodingDesc",
      {},
      element(
        "editorialDecl",
        {},
        ...[scale, score.equivalence].flatMap(text => (text ? [element("p", {}, text)] : [])),
      ),
    ),
  )
}

function scoreDef(notated: NotatedScore, options: ValueOptions): XmlElement {
  const { voices } = notated.score
  const bpm = toNumber(quartersPerMinute(notated.score, options)).toFixed(3)
  const staves = voices.map((voice, i) => staffDef(voice, i, notated.meters[i] ?? null))
  const symbol = voices.length > 1 ? { symbol: "bracket", "bar.thru": "false" } : {}
  return element("scoreDef", { "midi.bpm": bpm }, element("staffGrp", symbol, ...staves))
}

function staffDef(voice: ScoreVoice, index: number, meter: Meter | null): XmlElement {
  const signature = voice.signatures.filter(({ onset }) => onset.num === 0).at(-1)
  return element(
    "staffDef",
    { n: index + 1, lines: 5 },
    element("label", {}, voice.label),
    clefElement(clefFor(voice)),
    signature ? keySignature(signature.accidentals) : undefined,
    meter ? element("meterSig", { count: meter.count, unit: meter.unit }) : undefined,
  )
}

function section(notated: NotatedScore): XmlElement {
  const voices = notated.score.voices
  const contexts = voices.map(contextOf)
  const starts = voices.map(bracketsByStart)
  const measures = notated.blocks.map((block, i) => {
    const staves = block.layers.map((layer, voice) =>
      element("staff", { n: voice + 1 }, element("layer", { n: 1 }, ...layerContent(layer, contexts[voice]!))),
    )
    const marks = marksOf(block, starts, notated.meters.at(-1)?.unit ?? 4)
    return element(
      "measure",
      { n: block.n, right: rightLine(block, i === notated.blocks.length - 1) },
      ...staves,
      ...marks,
    )
  })
  return element("section", {}, ...measures)
}

function rightLine(block: NotatedBlock, last: boolean): string | undefined {
  if (last) return "end"
  if (block.sectionEnd) return "dbl"
  return block.shared ? undefined : "invis"
}

function contextOf(voice: ScoreVoice, index: number): VoiceContext {
  const { middle } = clefFor(voice)
  let silences = 0
  return {
    verses: versesOf(voice),
    middle: { step: STEPS[middle % 7]!, accidental: "", octave: Math.floor(middle / 7) },
    silence: () => `silence.${index + 1}.${++silences}`,
  }
}
