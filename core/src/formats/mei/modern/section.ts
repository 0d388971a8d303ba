/** The run of measures, each a stretch in which the bars of all voices can be written side by side. */
import type { LayerItem, Meter, NotatedBlock, NotatedScore, ScoreBracket, ScoreVoice } from "../../../score/index.js"
import { element, type XmlElement } from "../../xml.js"
import { clefFor, pitchAt } from "./clefs.js"
import { layerContent, type VoiceContext } from "./layer.js"
import { bracketsByStart, marksOf } from "./marks.js"
import { versesOf } from "./verses.js"

export function sectionElement(notated: NotatedScore): XmlElement {
  const voices = notated.score.voices
  const contexts = voices.map(contextOf)
  const starts = voices.map(bracketsByStart)
  const meters = meterKeeper(notated.meters)
  const parts = notated.blocks.flatMap((block, i) => {
    const { change, unit } = meters(block.layers)
    const last = i === notated.blocks.length - 1
    return [...(change ? [change] : []), measure(block, contexts, starts, unit, last)]
  })
  return element("section", {}, ...parts)
}

function measure(
  block: NotatedBlock,
  contexts: readonly VoiceContext[],
  starts: readonly ReadonlyMap<string, readonly ScoreBracket[]>[],
  unit: number,
  last: boolean,
): XmlElement {
  const staves = block.layers.map((layer, voice) => {
    const items = layer[0]?.kind === "meter" ? layer.slice(1) : layer
    return element("staff", { n: voice + 1 }, element("layer", { n: 1 }, ...layerContent(items, contexts[voice]!)))
  })
  return element("measure", { n: block.n, right: rightLine(block, last) }, ...staves, ...marksOf(block, starts, unit))
}

function rightLine(block: NotatedBlock, last: boolean): string | undefined {
  if (last) return "end"
  if (block.sectionEnd) return "dbl"
  return block.shared ? undefined : "invis"
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

function contextOf(voice: ScoreVoice, index: number): VoiceContext {
  let silences = 0
  return {
    verses: versesOf(voice),
    middle: pitchAt(clefFor(voice).middle),
    silence: () => `silence.${index + 1}.${++silences}`,
  }
}
