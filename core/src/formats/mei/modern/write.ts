/** A score as modern MEI 5.1 (common notation): what an engraver draws. */
import { toNumber, toText } from "../../../base/index.js"
import {
  barsFor,
  clefFor,
  conventionsWith,
  notatedBy,
  valuesBy,
  type EditionConventions,
} from "../../../edition/index.js"
import {
  quartersPerMinute,
  usualReduction,
  type LayerItem,
  type Meter,
  type NotatedScore,
  type Score,
  type ScoreVoice,
  type ValueOptions,
} from "../../../score/index.js"
import { element, xmlDocument, type XmlElement } from "../../xml.js"
import { clefElement, keySignature } from "./clefs.js"
import { sectionElement, type MeiLayout } from "./section.js"

/** Whether notes go on over the beginning of one of these systems without a sign there. */
export function goesOnOver(score: Score, chosen: Partial<EditionConventions>, systems: readonly number[]): boolean {
  const { blocks } = notatedBy(score, conventionsWith(chosen))
  return blocks.some(({ n, layers }) => systems.includes(n) && layers.some(beginsContinued))
}

function beginsContinued(layer: readonly LayerItem[]): boolean {
  return layer.find(({ kind }) => kind !== "meter" && kind !== "signature")?.kind === "continued"
}

/**
 * The text of the file, by these conventions and the usual ones for the rest. Throws a RangeError for a reduction that is no
 * power of two up to 32.
 */
export function modernMei(score: Score, chosen: Partial<EditionConventions> = {}, layout: MeiLayout = {}): string {
  const conventions = conventionsWith(chosen)
  const notated = notatedBy(score, conventions, layout.systems)
  return xmlDocument(
    element(
      "mei",
      { xmlns: "http://www.music-encoding.org/ns/mei", meiversion: "5.1" },
      head(score, valuesBy(conventions)),
      element(
        "music",
        {},
        element(
          "body",
          {},
          element(
            "mdiv",
            {},
            element("score", {}, scoreDef(notated, conventions), sectionElement(notated, conventions, layout)),
          ),
        ),
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

function scoreDef(notated: NotatedScore, conventions: EditionConventions): XmlElement {
  const { voices } = notated.score
  const bpm = toNumber(quartersPerMinute(notated.score, valuesBy(conventions))).toFixed(3)
  const staves = voices.map((voice, i) => staffDef(voice, i, notated.meters[i] ?? null, conventions))
  // A score without voices still has a staff: MEI knows no group of none.
  if (staves.length === 0) staves.push(element("staffDef", { n: 1, lines: 5 }))
  const symbol = voices.length > 1 ? { symbol: "bracket" } : {}
  return element(
    "scoreDef",
    { "midi.bpm": bpm },
    titleHead(notated.score.title),
    element("staffGrp", { ...symbol, ...linesBy(barsFor(conventions, notated.score)) }, ...staves),
  )
}

/** How the engraver draws bar lines over the staves of the group. */
function linesBy(bars: EditionConventions["bars"]): Readonly<Record<string, string>> {
  if (bars === "between") return { "bar.method": "mensur", "bar.thru": "true" }
  if (bars === "ticks") return { "bar.method": "takt", "bar.thru": "false" }
  return { "bar.thru": String(bars === "through") }
}

/** The title over the first system, in lines that fit its width. */
function titleHead(title: string): XmlElement | undefined {
  const lines = balanced(title, 70)
  if (lines.length === 0) return undefined
  const text = lines.flatMap((line, i) => (i === 0 ? [line] : [element("lb"), line]))
  return element(
    "pgHead",
    { func: "first" },
    element("rend", { halign: "center", valign: "top", fontsize: "150%" }, ...text),
  )
}

/** As few lines as such lines can be, but of about one length. */
function balanced(text: string, longest: number): string[] {
  const usual = linesOf(text, longest)
  for (let length = Math.ceil(text.length / Math.max(1, usual.length)); length < longest; length++) {
    const lines = linesOf(text, length)
    if (lines.length === usual.length) return lines
  }
  return usual
}

/** Words put together into lines of so many letters at most; a longer word has a line of its own. */
function linesOf(text: string, longest: number): string[] {
  const lines: string[] = []
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const last = lines.at(-1)
    if (last !== undefined && last.length + 1 + word.length <= longest) lines[lines.length - 1] = `${last} ${word}`
    else lines.push(word)
  }
  return lines
}

function staffDef(voice: ScoreVoice, index: number, meter: Meter | null, { clefs }: EditionConventions): XmlElement {
  const signature = voice.signatures.filter(({ onset }) => onset.num === 0).at(-1)
  return element(
    "staffDef",
    { n: index + 1, lines: 5 },
    element("label", {}, voice.label),
    clefElement(clefFor(voice, clefs)),
    signature ? keySignature(signature.accidentals) : undefined,
    meter ? element("meterSig", { count: meter.count, unit: meter.unit }) : undefined,
  )
}
