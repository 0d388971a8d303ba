/**
 * Measures for notes that are written whole. Readers of MusicXML measure a note by its shape, so it has to end in the measure in
 * which it begins: the measure goes on to the next line that no such note sounds over.
 */
import { compare, equals, plus, ratio, times } from "../../base/index.js"
import { barsFor, notatedBy, type EditionConventions } from "../../edition/index.js"
import {
  modernValue,
  repeatsOf,
  type LayerItem,
  type NotatedBlock,
  type NotatedScore,
  type NotatedSign,
  type Repeats,
  type Score,
} from "../../score/index.js"

/** As a file can have it: a held final is no long, which readers would measure by its shape too. */
export function notatedForFile(score: Score, given: EditionConventions): NotatedScore {
  const conventions: EditionConventions = { ...given, finals: "fermata" }
  const plain = notatedBy(score, conventions)
  if (conventions.overLines !== "whole") return plain
  const notated = notatedBy(score, conventions, fixedLines(plain))
  const lines = barsFor(conventions, notated.score) !== "between"
  return { ...notated, blocks: merged(notated.blocks, lines) }
}

/** Numbers of the measures before which there has to be a line: a note is tied over it. */
function fixedLines(notated: NotatedScore): number[] {
  const repeats = repeatsOf(notated)
  return notated.blocks.flatMap((block, i, all) =>
    i > 0 && (all[i - 1]!.sectionEnd || begins(block, repeats) || block.layers.some(hasMeter)) ? [block.n] : [],
  )
}

function begins({ start }: NotatedBlock, { starts, ends, endings }: Repeats): boolean {
  const lines = [...starts, ...ends, ...endings.flatMap(({ from, to }) => [from, to])]
  return lines.some(at => equals(at, start))
}

const hasMeter = (layer: readonly LayerItem[]): boolean => layer.some(({ kind }) => kind === "meter")

/** `lines`: where no note sounds over them, lines stand inside the measure. */
function merged(blocks: readonly NotatedBlock[], lines: boolean): NotatedBlock[] {
  const all: NotatedBlock[] = []
  for (const block of blocks) {
    const before = all.at(-1)
    if (before && block.layers.some(soundsOn)) all[all.length - 1] = together(before, block, lines)
    else all.push(block)
  }
  return all.map(block => ({ ...block, layers: block.layers.map(asOne) }))
}

/** Whether a note written whole before it goes on. */
const soundsOn = (layer: readonly LayerItem[]): boolean =>
  layer.find(({ kind }) => kind !== "signature")?.kind === "continued"

function together(before: NotatedBlock, block: NotatedBlock, lines: boolean): NotatedBlock {
  const layers = before.layers.map((layer, i): LayerItem[] => {
    const next = block.layers[i]!
    const line = lines && layer.at(-1)?.kind !== "line" && !soundsOn(next)
    return [...restsOf(layer, before), ...(line ? [{ kind: "line" } as const] : []), ...restsOf(next, block)]
  })
  return { ...block, n: before.n, start: before.start, layers }
}

/** A rest through one of several bars has a shape of its own. */
function restsOf(layer: readonly LayerItem[], { start, end }: NotatedBlock): LayerItem[] {
  return layer.flatMap((item): LayerItem[] => {
    if (item.kind !== "bar-rest") return [item]
    return inSigns({ ...item, kind: "sign", last: true, value: WHOLE, start, end, beat: "" })
  })
}
const WHOLE = { dur: "1", dots: 0 } as const

/** Dotted breve, breve, dotted whole and so on, longest first. */
const SIZES = Array.from({ length: 10 }, (_, n) => ratio(2, 2 ** n)).flatMap(size => [times(size, ratio(3, 2)), size])

/** In as few signs as show it. */
function inSigns(rest: NotatedSign): NotatedSign[] {
  const signs: NotatedSign[] = []
  for (let start = rest.start; compare(start, rest.end) < 0;) {
    const size = SIZES.find(one => compare(plus(start, one), rest.end) <= 0)
    const value = size && modernValue(size)
    if (!value) return [rest]
    const event = signs.length === 0 ? rest.event : ({ ...rest.event, id: null } as NotatedSign["event"])
    signs.push({ ...rest, event, value, start, end: plus(start, size) })
    start = plus(start, size)
  }
  return signs
}

/** Each note written whole takes the time that it goes on through; no line stands inside it. */
function asOne(layer: readonly LayerItem[]): LayerItem[] {
  const items: LayerItem[] = []
  for (const item of layer) {
    if (item.kind !== "continued") {
      items.push(item)
      continue
    }
    const at = items.findLastIndex(one => one.kind === "sign" && one.event === item.event)
    const sign = items[at]
    if (sign?.kind !== "sign") continue
    const between = items.splice(at).slice(1)
    const { share: _, ...whole } = sign
    items.push({ ...whole, end: item.end }, ...between.filter(({ kind }) => kind !== "line"))
  }
  return items
}
