/** The score as modern notation: bars, ties, tuplets, meters, shown accidentals; still data, of no file format. */
import { compare, equals, minus, plus, times, toText, type Rational } from "../base/index.js"
import { shownAccidentals, type ShownAccidental } from "./accidentals.js"
import { barsOf, blocksOf, type Bar, type Block, type Meter } from "./bars.js"
import { splitPieces, type Piece, type SplitSign } from "./split.js"
import type { Score, ScoreEvent, ScoreVoice } from "./types.js"
import { isDyadic, wholesPerUnit, type ModernValue, type ValueOptions } from "./values.js"

/** One written note or rest. A long note is several, tied: `part` counts them from 0. */
export interface NotatedSign {
  readonly kind: "sign"
  readonly event: ScoreEvent
  readonly part: number
  readonly last: boolean
  readonly value: ModernValue
  /** In whole notes from the beginning of the score. */
  readonly start: Rational
  readonly end: Rational
  /** Signs with the same beat may share a beam. */
  readonly beat: string
  readonly accidental?: ShownAccidental
}
export interface NotatedTuplet {
  readonly kind: "tuplet"
  readonly num: number
  readonly numbase: number
  readonly signs: readonly NotatedSign[]
}
export type LayerItem =
  | NotatedSign
  | NotatedTuplet
  /** A rest through the whole stretch, which is one bar of this voice. */
  | { readonly kind: "bar-rest"; readonly event: ScoreEvent; readonly part: number }
  /** The end of a bar of this voice alone. */
  | { readonly kind: "line" }
  | { readonly kind: "meter"; readonly meter: Meter }
  | { readonly kind: "signature"; readonly accidentals: ScoreVoice["signatures"][number]["accidentals"] }

export interface NotatedBlock extends Block {
  /** A finis punctorum closes a section here in every voice. */
  readonly sectionEnd: boolean
  /** One list for each voice. */
  readonly layers: readonly (readonly LayerItem[])[]
}

export interface NotatedScore {
  readonly score: Score
  readonly wholesPerUnit: Rational
  /** The first meter of each voice. */
  readonly meters: readonly (Meter | null)[]
  readonly blocks: readonly NotatedBlock[]
}

/** Throws a RangeError for a reduction that is no power of two up to 32. */
export function notate(score: Score, options: ValueOptions = {}): NotatedScore {
  const scale = wholesPerUnit(score, options)
  const end = times(score.duration, scale)
  const bars = score.voices.map(voice => barsOf(voice, scale, end))
  const meters = bars.map(own => own.find(bar => bar.meter)?.meter ?? null)
  const writers = score.voices.map((voice, i) => layerWriter(voice, bars[i]!, meters[i]!, scale))
  const blocks = blocksOf(bars, end).map(block => ({
    ...block,
    sectionEnd: score.voices.every(voice => voice.sectionEnds.some(at => equals(times(at, scale), block.end))),
    layers: writers.map(write => write(block)),
  }))
  return { score, wholesPerUnit: scale, meters, blocks: markLast(blocks) }
}

/** Bars, or parts of one, of a voice within a stretch; the origin is where its lines are counted from. */
interface Cell {
  readonly start: Rational
  readonly end: Rational
  readonly origin: Rational
  readonly bar: Bar | null
}

/** Writes the stretches of one voice in order, each time going on where it stopped. */
function layerWriter(voice: ScoreVoice, bars: readonly Bar[], first: Meter | null, scale: Rational) {
  const accidentals = shownAccidentals(voice, bars, scale)
  const parts = new Map<ScoreEvent, number>()
  const signatures = voice.signatures.filter(({ onset }) => onset.num > 0).map(signature => ({ ...signature, at: times(signature.onset, scale) }))
  const whole = voice.events.map(event => ({ event, start: times(event.onset, scale), end: times(plus(event.onset, event.duration), scale) }))
  let meter = first
  let bar = 0
  let next = 0

  const cells = (block: Block): Cell[] => {
    const inside: Cell[] = []
    for (; bars[bar] && compare(bars[bar]!.start, block.end) < 0; bar++) {
      inside.push(cellOf(bars[bar]!, block))
      if (compare(bars[bar]!.end, block.end) > 0) break
    }
    return joinUneven(inside, block)
  }
  const piecesOf = (cell: Cell): Piece[] => {
    const pieces: Piece[] = []
    for (; whole[next] && compare(whole[next]!.start, cell.end) < 0; next++) {
      const { event, start, end } = whole[next]!
      const from = compare(start, cell.start) < 0 ? cell.start : start
      const to = compare(end, cell.end) > 0 ? cell.end : end
      if (compare(from, to) < 0) pieces.push({ event, start: minus(from, cell.origin), end: minus(to, cell.origin) })
      if (compare(end, cell.end) > 0) break
    }
    return pieces
  }
  const sign = (split: SplitSign, cell: Cell): NotatedSign => {
    const part = parts.get(split.event) ?? 0
    parts.set(split.event, part + 1)
    const start = plus(split.start, cell.origin)
    const accidental = part === 0 ? accidentals.get(split.event) : undefined
    return {
      kind: "sign", event: split.event, part, last: false, value: split.value, start,
      end: plus(split.end, cell.origin), beat: beatOf(split, cell), ...(accidental ? { accidental } : {}),
    }
  }
  const restOf = (cell: Cell, pieces: readonly Piece[]): LayerItem | undefined => {
    const only = pieces.length === 1 ? pieces[0]!.event : undefined
    if (only?.kind !== "rest" || !cell.bar?.meter || !sameMeter(cell.bar.meter, meter)) return undefined
    const part = parts.get(only) ?? 0
    parts.set(only, part + 1)
    return { kind: "bar-rest", event: only, part }
  }
  const itemsOf = (cell: Cell, alone: boolean): LayerItem[] => {
    const pieces = piecesOf(cell)
    const rest = alone ? restOf(cell, pieces) : undefined
    if (rest) return [rest]
    return splitPieces(pieces, cell.bar?.periods ?? []).flatMap((item): LayerItem[] => {
      const due = signatures[0] && compare(signatures[0].at, plus(startOf(item), cell.origin)) <= 0 ? signatures.shift() : undefined
      const written: LayerItem =
        item.kind === "sign" ? sign(item, cell) : { ...item, signs: item.signs.map(one => sign(one, cell)) }
      return due ? [{ kind: "signature", accidentals: due.accidentals }, written] : [written]
    })
  }
  return (block: Block): LayerItem[] => {
    const inside = cells(block)
    return inside.flatMap((cell, i): LayerItem[] => {
      const items: LayerItem[] = []
      const own = cell.bar?.meter ?? null
      if (own && !sameMeter(own, meter) && equals(cell.start, cell.origin)) items.push({ kind: "meter", meter: (meter = own) })
      items.push(...itemsOf(cell, inside.length === 1 && equals(cell.start, cell.origin)))
      const closes = i < inside.length - 1 || (!block.shared && cell.bar !== null && equals(cell.bar.end, block.end))
      return closes ? [...items, { kind: "line" }] : items
    })
  }
}

function startOf(item: { readonly kind: "sign"; readonly start: Rational } | { readonly kind: "tuplet"; readonly signs: readonly SplitSign[] }) {
  return item.kind === "sign" ? item.start : item.signs[0]!.start
}

function cellOf(bar: Bar, block: Block): Cell {
  const start = compare(bar.start, block.start) < 0 ? block.start : bar.start
  const end = compare(bar.end, block.end) > 0 ? block.end : bar.end
  return { start, end, origin: isDyadic(minus(bar.start, block.start)) ? bar.start : block.start, bar }
}

/** Bars whose line halving cannot reach from the stretch's beginning are written as one: no tie could be cut there. */
function joinUneven(cells: readonly Cell[], block: Block): Cell[] {
  const joined: Cell[] = []
  for (const cell of cells) {
    const before = joined.at(-1)
    if (before && !isDyadic(minus(before.end, block.start)))
      joined[joined.length - 1] = { ...before, end: cell.end, bar: null }
    else joined.push(cell)
  }
  return joined
}

const LONGEST_BEAT = { num: 3, den: 8 }
const QUARTER = { num: 1, den: 4 }

function beatOf(split: SplitSign, cell: Cell): string {
  const beat = cell.bar?.periods.slice(1).find(period => compare(period, LONGEST_BEAT) <= 0) ?? QUARTER
  const index = Math.floor((split.start.num * beat.den) / (split.start.den * beat.num))
  return `${toText(cell.start)} ${index}`
}

function sameMeter(a: Meter, b: Meter | null): boolean {
  return a.count === b?.count && a.unit === b.unit
}

/** The last part of each note is known only when all are written. */
function markLast(blocks: readonly NotatedBlock[]): NotatedBlock[] {
  const count = new Map<ScoreEvent, number>()
  const see = (item: LayerItem) => {
    if (item.kind === "tuplet") item.signs.forEach(see)
    else if (item.kind === "sign" || item.kind === "bar-rest") count.set(item.event, item.part)
  }
  const mark = <T extends LayerItem>(item: T): T => {
    if (item.kind === "tuplet") return { ...item, signs: item.signs.map(mark) }
    return item.kind === "sign" ? { ...item, last: item.part === count.get(item.event) } : item
  }
  for (const block of blocks) for (const layer of block.layers) layer.forEach(see)
  return blocks.map(block => ({ ...block, layers: block.layers.map(layer => layer.map(mark)) }))
}
