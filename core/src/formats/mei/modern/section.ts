/** The run of measures, each a stretch in which the bars of all voices can be written side by side. */
import { compare, equals, type Rational } from "../../../base/index.js"
import { clefFor, pitchAt, type EditionConventions } from "../../../edition/index.js"
import {
  repeatsOf,
  type LayerItem,
  type Meter,
  type NotatedBlock,
  type NotatedScore,
  type Repeats,
  type ScoreVoice,
} from "../../../score/index.js"
import { element, type XmlElement } from "../../xml.js"
import { withCountedRests } from "./counted-rests.js"
import { barId } from "./ids.js"
import { layerContent, type VoiceContext } from "./layer.js"
import { bracketsByStart, marksOf, wordsOf } from "./marks.js"
import { sourceMarks } from "./source.js"
import { versesOf } from "./verses.js"

/** What an engraver needs beside the music. */
export interface MeiLayout {
  /** Numbers of the bars that begin a system, the first left out: a break stands before them, and notes over it are tied. */
  readonly systems?: readonly number[]
  /** In a part: several bars of silence stand as one rest with their number. Only the first of its signs keeps its id then. */
  readonly countedRests?: boolean
  /** For our engraver, which would make words as small as the notes over them: these are said to be larger. */
  readonly wordsOfOneSize?: boolean
}

export function sectionElement(
  notated: NotatedScore,
  conventions: EditionConventions,
  { systems = [], countedRests = false, wordsOfOneSize = false }: MeiLayout = {},
): XmlElement {
  const voices = notated.score.voices
  const contexts = voices.map((voice, index) => contextOf(voice, index, conventions, wordsOfOneSize))
  const starts = voices.map(bracketsByStart)
  const source = voices.map((voice, i) => sourceMarks(voice, i + 1, conventions))
  const words = voices.map(voice => wordsOf(voice, notated))
  const meters = meterKeeper(notated.meters)
  const repeats = repeatsOf(notated)
  const blocks = notated.blocks.map((block, i) => (i === notated.blocks.length - 1 ? withoutTail(block) : block))
  const parts = blocks.map((block, i): XmlElement[] => {
    const { change, unit } = meters(block.layers)
    const last = i === notated.blocks.length - 1
    const marks = [
      ...marksOf(block, { starts, source, unit, ...conventions }),
      ...words.flatMap(own => own(block, last)),
    ]
    return [
      ...(systems.includes(block.n) ? [element("sb")] : []),
      ...(change ? [change] : []),
      measure(block, contexts, marks, last, repeats),
    ]
  })
  const written = countedRests && voices.length === 1 ? withCountedRests(parts) : parts
  return element("section", {}, ...withEndings(written, notated.blocks, repeats))
}

function measure(
  block: NotatedBlock,
  contexts: readonly VoiceContext[],
  marks: readonly XmlElement[],
  last: boolean,
  repeats: Repeats,
): XmlElement {
  const staves = block.layers.map((layer, voice) => {
    const items = layer[0]?.kind === "meter" ? layer.slice(1) : layer
    return element("staff", { n: voice + 1 }, element("layer", { n: 1 }, ...layerContent(items, contexts[voice]!)))
  })
  const has = (times: readonly Rational[], time: Rational) => times.some(one => equals(one, time))
  const left = has(repeats.starts, block.start) ? "rptstart" : undefined
  const right = has(repeats.ends, block.end) ? "rptend" : rightLine(block, last)
  return element("measure", { "xml:id": barId(block.n), n: block.n, left, right }, ...staves, ...marks)
}

/** Behind the finals that all voices hold together the last stretch needs no empty room. */
function withoutTail(block: NotatedBlock): NotatedBlock {
  if (!block.layers.every(layer => layer.length > 1 && layer.at(-1)?.kind === "continued")) return block
  return {
    ...block,
    layers: block.layers.map(layer => layer.slice(0, layer.findLastIndex(({ kind }) => kind !== "continued") + 1)),
  }
}

function rightLine(block: NotatedBlock, last: boolean): string | undefined {
  if (last) return "end"
  if (block.sectionEnd) return "dbl"
  return block.shared ? undefined : "invis"
}

/** Measures of an ending stand inside an element of it. `parts`: what belongs to each stretch. */
function withEndings(
  parts: readonly (readonly XmlElement[])[],
  blocks: readonly NotatedBlock[],
  { endings }: Repeats,
): XmlElement[] {
  const inside = (block: NotatedBlock) =>
    endings.find(({ from, to }) => compare(from, block.start) <= 0 && compare(block.end, to) <= 0)
  const content: XmlElement[] = []
  for (let i = 0; i < parts.length;) {
    const ending = inside(blocks[i]!)
    const end = ending ? blocks.findIndex((block, n) => n > i && inside(block) !== ending) : i + 1
    const next = end < 0 ? parts.length : end
    const own = parts.slice(i, next).flat()
    content.push(...(ending ? [element("ending", { n: ending.number, label: `${ending.number}.` }, ...own)] : own))
    i = next
  }
  return content
}

/**
 * Changes of meter, block after block. One at a block's beginning stands in a scoreDef before it. One inside stands in the
 * layer, where the engraver forgets it after the measure, so the next scoreDef says it again, unseen. `unit` is that by
 * which the engraver counts beats in the block: the lowest staff's, the layer's own change included.
 */
function meterKeeper(first: readonly (Meter | null)[]) {
  const inForce = [...first]
  let forgotten = new Map<number, Meter>()
  return (layers: readonly (readonly LayerItem[])[]): { change: XmlElement | undefined; unit: number } => {
    const defs: XmlElement[] = []
    const within = new Map<number, Meter>()
    layers.forEach((layer, voice) => {
      const opening = layer[0]?.kind === "meter" ? layer[0].meter : undefined
      const again = forgotten.get(voice)
      const meter = opening ?? again
      if (meter) {
        const sign = { count: meter.count, unit: meter.unit, visible: opening ? undefined : "false" }
        defs.push(element("staffDef", { n: voice + 1 }, element("meterSig", sign)))
        inForce[voice] = meter
      }
      for (const item of layer.slice(1)) if (item.kind === "meter") within.set(voice, item.meter)
    })
    forgotten = within
    const lowest = layers.length - 1
    return {
      change: defs.length > 0 ? element("scoreDef", {}, element("staffGrp", {}, ...defs)) : undefined,
      unit: (within.get(lowest) ?? inForce[lowest])?.unit ?? 4,
    }
  }
}

function contextOf(
  voice: ScoreVoice,
  index: number,
  { clefs, plicas, supplied }: EditionConventions,
  wordsOfOneSize: boolean,
): VoiceContext {
  let silences = 0
  const smallHands = supplied === "small"
  return {
    verses: versesOf(voice, note => wordsOfOneSize && smallHands && note.hand !== undefined),
    middle: pitchAt(clefFor(voice, clefs).middle),
    slashedPlicas: plicas === "small-note",
    smallHands,
    silence: () => `silence.${index + 1}.${++silences}`,
  }
}
