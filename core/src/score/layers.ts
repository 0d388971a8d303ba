/** The run of written signs of one voice, stretch by stretch. */
import { compare, equals, plus, ratio, times, toText, type Rational } from "../base/index.js"
import type { ShownAccidental } from "./accidentals.js"
import type { Bar, Block, Meter } from "./bars.js"
import { cellsOf, piecesOf, type Cell, type TimedEvent } from "./cells.js"
import type { LayerItem, NotatedSign } from "./notated.js"
import { joinRests } from "./join-rests.js"
import { splitPieces, type Piece, type SplitSign } from "./split.js"
import type { ScoreEvent, ScoreVoice } from "./types.js"
import type { ModernValue } from "./values.js"
import { wholeNotes, type WholePiece } from "./whole.js"

/** What an editor chooses of how notes are written in bars. */
export interface LayerOptions {
  /** A note that sounds on over a line is parted and tied, unless said otherwise, or keeps its whole value. */
  readonly overLines?: "tied" | "whole"
  /** A held final is one long note. */
  readonly longFinals?: boolean
  /** Numbers of the stretches that begin a system: what sounds over its beginning is tied there, however it is written. */
  readonly systems?: readonly number[]
}

/** Where the signs of a voice have to fit. */
export interface VoiceFrame {
  readonly bars: readonly Bar[]
  readonly blocks: readonly Block[]
  /** Whole notes in a unit of the score. */
  readonly scale: Rational
  /** The meter that stands at the voice's beginning. */
  readonly first: Meter | null
  readonly accidentals: ReadonlyMap<ScoreEvent, ShownAccidental>
}

export function layersOf(
  voice: ScoreVoice,
  { bars, blocks, scale, first, accidentals }: VoiceFrame,
  options: LayerOptions = {},
): LayerItem[][] {
  const cells = cellsOf(bars, blocks)
  const flat = cells.flat()
  const pieces = piecesOf(timed(voice, scale), flat).map(joinRests)
  const meters = meterChanges(flat, first)
  const whole = options.overLines === "whole"
  const plans = wholeNotes(pieces, {
    whole,
    longFinals: options.longFinals === true,
    systems: opening(blocks, cells, options),
  })
  const writer = signWriter(accidentals, plans, whole)
  let next = 0
  const layers = cells.map((inside, i) =>
    inside.flatMap((cell, at): LayerItem[] => {
      const { meter, change } = meters[next]!
      const own = pieces[next++]!
      const items = inside.length === 1 && meter && isOneRest(own) ? writer.barRest(own[0]!) : writer.signs(own, cell)
      const closes = at < inside.length - 1 || closesAlone(cell, blocks[i]!)
      return [...(change ? [{ kind: "meter", meter: change } as const] : []), ...items, ...(closes ? [LINE] : [])]
    }),
  )
  return withSignatures(layers, voice, scale).map(layer => markLast(layer, writer.counts))
}

/** Which cells, counted through, begin a system. */
function opening(
  blocks: readonly Block[],
  cells: readonly (readonly Cell[])[],
  { systems = [] }: LayerOptions,
): ReadonlySet<number> {
  let count = 0
  const first = cells.map(inside => (count += inside.length) - inside.length)
  return new Set(blocks.flatMap(({ n }, i) => (systems.includes(n) ? [first[i]!] : [])))
}

const LINE: LayerItem = { kind: "line" }

function timed(voice: ScoreVoice, scale: Rational): TimedEvent[] {
  return voice.events.map(event => ({
    event,
    start: times(event.onset, scale),
    end: times(plus(event.onset, event.duration), scale),
  }))
}

function isOneRest(pieces: readonly Piece[]): boolean {
  return pieces.length === 1 && pieces[0]!.event.kind === "rest"
}

/** Counts the parts of each note and rest as it writes them. */
function signWriter(
  accidentals: ReadonlyMap<ScoreEvent, ShownAccidental>,
  plans: ReadonlyMap<ScoreEvent, readonly WholePiece[]>,
  undivided: boolean,
) {
  const counts = new Map<ScoreEvent, number>()
  const planned = new Map<ScoreEvent, number>()
  const partOf = (event: ScoreEvent): number => {
    const part = counts.get(event) ?? 0
    counts.set(event, part + 1)
    return part
  }
  const sign = (split: SplitSign, cell: Cell): NotatedSign => {
    const { event, value } = split
    const part = partOf(event)
    const accidental = part === 0 ? accidentals.get(event) : undefined
    const times = { start: plus(split.start, cell.origin), end: plus(split.end, cell.origin) }
    return { kind: "sign", event, part, last: false, value, ...times, beat: beatOf(split, cell), accidental }
  }
  const split = (pieces: readonly Piece[], cell: Cell): LayerItem[] =>
    splitPieces(pieces, cell.bar?.periods ?? [], undivided).map(item =>
      item.kind === "sign" ? sign(item, cell) : { ...item, signs: item.signs.map(one => sign(one, cell)) },
    )
  const wholePiece = (piece: Piece, plan: readonly WholePiece[], cell: Cell): LayerItem => {
    const { event, start, end } = piece
    const at = planned.get(event) ?? 0
    planned.set(event, at + 1)
    const shares = splitPieces([piece], cell.bar?.periods ?? []).flatMap(one =>
      one.kind === "sign" ? [one.value] : [],
    )
    const what = plan[at]!
    if (what !== "continued") {
      const own = sign({ kind: "sign", event, start, end, value: what.value }, cell)
      return isSame(shares, what.value) ? own : { ...own, share: shares }
    }
    const span = { start: plus(start, cell.origin), end: plus(end, cell.origin) }
    return { kind: "continued", event, part: counts.get(event)! - 1, values: shares, ...span }
  }
  return {
    counts,
    barRest: ({ event }: Piece): LayerItem[] => [{ kind: "bar-rest", event, part: partOf(event) }],
    signs: (pieces: readonly Piece[], cell: Cell): LayerItem[] =>
      runsOf(pieces, plans).flatMap(run => {
        const plan = plans.get(run[0]!.event)
        return plan ? [wholePiece(run[0]!, plan, cell)] : split(run, cell)
      }),
  }
}

function isSame(shares: readonly ModernValue[], { dur, dots }: ModernValue): boolean {
  return shares.length === 1 && shares[0]!.dur === dur && shares[0]!.dots === dots
}

/** Pieces of planned notes each by itself, the others as they follow one another. */
function runsOf(pieces: readonly Piece[], plans: ReadonlyMap<ScoreEvent, unknown>): Piece[][] {
  const runs: Piece[][] = []
  for (const piece of pieces) {
    const open = runs.at(-1)
    if (open && !plans.has(piece.event) && !plans.has(open[0]!.event)) open.push(piece)
    else runs.push([piece])
  }
  return runs
}

/** In a stretch whose end not all voices share, a voice that has a line there draws it itself. */
function closesAlone(cell: Cell, block: Block): boolean {
  return !block.shared && cell.bar !== null && equals(cell.bar.end, block.end)
}

function isWhole(cell: Cell): boolean {
  return cell.bar !== null && equals(cell.start, cell.bar.start) && equals(cell.end, cell.bar.end)
}

/** The meter of each cell that is a whole bar, and again where it is new. */
function meterChanges(cells: readonly Cell[], first: Meter | null): { meter: Meter | null; change: Meter | null }[] {
  let force = first
  return cells.map(cell => {
    const meter = cell.bar?.meter ?? null
    if (!meter || !isWhole(cell)) return { meter: null, change: null }
    const change = sameMeter(meter, force) ? null : meter
    force = meter
    return { meter, change }
  })
}

function sameMeter(a: Meter, b: Meter | null): boolean {
  return a.count === b?.count && a.unit === b.unit
}

const LONGEST_BEAT = ratio(3, 8)
const QUARTER = ratio(1, 4)

function beatOf(split: SplitSign, cell: Cell): string {
  const beat = cell.bar?.periods.slice(1).find(period => compare(period, LONGEST_BEAT) <= 0) ?? QUARTER
  const index = Math.floor((split.start.num * beat.den) / (split.start.den * beat.num))
  return `${toText(cell.start)} ${index}`
}

/** A signature that comes later than the beginning, before the first sign that begins with or after it. */
function withSignatures(layers: LayerItem[][], voice: ScoreVoice, scale: Rational): LayerItem[][] {
  const due = voice.signatures.flatMap(({ onset, accidentals }) =>
    onset.num > 0 ? [{ at: times(onset, scale), accidentals }] : [],
  )
  return layers.map(layer =>
    layer.flatMap((item): LayerItem[] => {
      const start = startOf(item)
      const reached = start ? due.filter(({ at }) => compare(at, start) <= 0).length : 0
      const before = due.splice(0, reached)
      return [...before.map(({ accidentals }): LayerItem => ({ kind: "signature", accidentals })), item]
    }),
  )
}

function startOf(item: LayerItem): Rational | undefined {
  if (item.kind === "sign") return item.start
  return item.kind === "tuplet" ? item.signs[0]!.start : undefined
}

/** Which part of a note is its last is known only when all are written. */
function markLast(layer: readonly LayerItem[], counts: ReadonlyMap<ScoreEvent, number>): LayerItem[] {
  const mark = (sign: NotatedSign): NotatedSign => ({ ...sign, last: sign.part === counts.get(sign.event)! - 1 })
  return layer.map(item => {
    if (item.kind === "tuplet") return { ...item, signs: item.signs.map(mark) }
    return item.kind === "sign" ? mark(item) : item
  })
}
