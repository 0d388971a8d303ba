/** Other ways through a voice, stretch by stretch: where each parts from the chosen one, and where it meets it again. */
import { equals, minus, over, plus, times, toNumber, type Rational, type SignId } from "../../base/index.js"
import type { VoiceRival } from "../../reading/index.js"
import { sameWith } from "./same.js"
import { firstFrom, NEAR, type TimedSign, type TimeVoice } from "./timeline.js"

export interface StoreyPiece {
  readonly timed: TimedSign
  readonly at: number
  readonly lasts: number
  readonly duration: Rational
}
/** One rival of a stretch. `row` 0 stands right below the voice. */
export interface Storey {
  readonly from: number
  readonly to: number
  readonly pieces: readonly StoreyPiece[]
  readonly row: number
  /** It never meets what was chosen again: "cut" where only its beginning is shown, "end" where all of it is. */
  readonly open?: "cut" | "end"
}

/** From here on doubt is shown: one chance in forty that the duration is wrong. */
export const SHOWN_DOUBT = 0.05
/** A rival is drawn where one of its durations is at least so likely. */
const SHOWN_CHANCE = 0.05
/** Notes and rests of a stretch, at most. */
const LONGEST = 60

/** Of each stretch so many rivals as there are rows for. */
export function storeysOf({ signs, reading }: TimeVoice, rows: number): Storey[] {
  if (rows === 0 || reading.rivals.length === 0) return []
  const found: Omit<Storey, "row">[] = []
  const seen = new Map<TimedSign, (readonly StoreyPiece[])[]>()
  const places = placesIn(signs, reading.rivals)
  for (const rival of reading.rivals)
    for (const stretch of stretchesOf(signs, rival, places)) {
      const { pieces } = stretch
      const [{ timed }] = pieces as readonly [StoreyPiece]
      const alike = seen.get(timed) ?? []
      if (alike.some(other => sameWith(other, pieces, samePiece)) || !pieces.some(isDoubtful)) continue
      seen.set(timed, [...alike, pieces])
      found.push(stretch)
    }
  return inRows(found, rows)
}

export const samePiece = (one: StoreyPiece, other: StoreyPiece): boolean =>
  one.timed === other.timed && one.at === other.at && one.lasts === other.lasts

/** Where in the list each sign stands that is told of in a rival. */
function placesIn(signs: readonly TimedSign[], rivals: readonly VoiceRival[]): ReadonlyMap<SignId, number> {
  const told = new Set<SignId>()
  for (const rival of rivals) for (const id of rival.signs.keys()) told.add(id)
  const places = new Map<SignId, number>()
  for (let at = 0; at < signs.length && places.size < told.size; at++) {
    const { id } = signs[at]!.sign
    if (told.has(id)) places.set(id, at)
  }
  return places
}

/** The sign is in doubt, and this is one of the durations it may have. */
function isDoubtful({ timed: { reading, lasts }, lasts: other }: StoreyPiece): boolean {
  if (reading.doubt < SHOWN_DOUBT || other === lasts || reading.duration.num === 0) return false
  const ratio = lasts / toNumber(reading.duration)
  return reading.rivals.some(
    ({ duration, chance }) => chance >= SHOWN_CHANCE && Math.abs(toNumber(duration) * ratio - other) < 1e-6,
  )
}

/** `places`: where in `signs` each stands. */
function stretchesOf(
  signs: readonly TimedSign[],
  rival: VoiceRival,
  places: ReadonlyMap<SignId, number>,
): Omit<Storey, "row">[] {
  const stretches: Omit<Storey, "row">[] = []
  const own = partingsOf(signs, rival, places)
  let from = 0
  for (const parting of own) {
    if (parting < from) continue
    const stretch = knownAt(signs, parting, rival) ?? stretchFrom(signs, parting, rival)
    stretches.push(stretch.storey)
    // what has not met again so far off does not meet again
    if (stretch.open) break
    from = parting + stretch.signs
  }
  return stretches
}

/** A stretch with all that it was found from. */
interface Stretch {
  /** Of one that never meets again only as much as is of interest: its beginning. */
  readonly storey: Omit<Storey, "row">
  readonly pieces: readonly StoreyPiece[]
  /** From the first sign in it to the last, those too that do not last. */
  readonly signs: number
  readonly open: boolean
  /** It is open since the voice ends. */
  readonly toEnd: boolean
}
/** Pieces shown of a stretch that never meets what was chosen again. */
const SHOWN_OPEN = 8

function stretchFrom(signs: readonly TimedSign[], from: number, rival: VoiceRival): Stretch {
  const pieces: StoreyPiece[] = []
  let shift: Rational = { num: 0, den: 1 }
  let at = from
  for (; at < signs.length && pieces.length <= LONGEST; at++) {
    const timed = signs[at]!
    if (timed.duration.num === 0) continue
    const duration = timed.held ? timed.duration : durationIn(rival, timed)
    pieces.push({ timed, at: toNumber(plus(timed.onset, shift)), lasts: toNumber(duration), duration })
    shift = plus(shift, minus(duration, timed.duration))
    if (shift.num === 0) break
  }
  const open = shift.num !== 0
  const shown = open ? pieces.slice(0, SHOWN_OPEN) : pieces
  const storey = {
    ...spanOf(shown),
    pieces: shown,
    ...(open && ({ open: shown.length < pieces.length ? "cut" : "end" } as const)),
  }
  const count = Math.min(signs.length, at + (open ? 0 : 1)) - from
  return kept(signs[from]!, { storey, pieces, signs: count, open, toEnd: open && pieces.length <= LONGEST })
}

/** By the sign that they begin with: rivals share most of their stretches, with each other and from one layout to the next. */
const stretchesKept = new WeakMap<TimedSign, Stretch[]>()
const MOST_KEPT = 8

function kept(first: TimedSign, stretch: Stretch): Stretch {
  const known = stretchesKept.get(first)
  if (known === undefined) stretchesKept.set(first, [stretch])
  else if (known.length < MOST_KEPT) known.push(stretch)
  return stretch
}

/** The stretch that begins with this sign and has the rival's durations, over the same signs. */
function knownAt(signs: readonly TimedSign[], from: number, rival: VoiceRival): Stretch | undefined {
  return stretchesKept.get(signs[from]!)?.find(({ pieces, signs: count, toEnd }) => {
    const end = from + count
    if (toEnd ? end !== signs.length : end > signs.length) return false
    let piece = 0
    for (let i = from; i < end; i++) {
      const timed = signs[i]!
      if (timed.duration.num === 0) continue
      const own = pieces[piece++]
      if (own?.timed !== timed || !lastsIn(rival, own)) return false
    }
    return piece === pieces.length
  })
}

const lastsIn = (rival: VoiceRival, { timed, duration }: StoreyPiece): boolean =>
  equals(duration, isAsRead(rival, timed) ? timed.duration : durationIn(rival, timed))

/** Numbers of the signs that last something else in the rival, in order. */
function partingsOf(signs: readonly TimedSign[], rival: VoiceRival, places: ReadonlyMap<SignId, number>): number[] {
  const own: number[] = []
  for (const id of rival.signs.keys()) {
    const at = places.get(id)
    if (at !== undefined && signs[at]!.duration.num !== 0 && !isAsRead(rival, signs[at]!)) own.push(at)
  }
  return own.sort((a, b) => a - b)
}

/** It lasts in the rival what it lasts in the chosen reading. */
function isAsRead({ signs }: VoiceRival, { sign, reading: { duration }, held }: TimedSign): boolean {
  if (held || duration.num === 0) return true
  const other = signs.get(sign.id)
  return other === undefined || equals(other, duration)
}

function durationIn({ signs }: VoiceRival, { sign, reading, duration }: TimedSign): Rational {
  const other = signs.get(sign.id)
  if (other === undefined || reading.duration.num === 0) return duration
  // rivals count in the voice's own unit
  return times(other, over(duration, reading.duration))
}

/** By where they begin, and how long the longest is: for finding those of a system. */
interface InOrder {
  readonly all: readonly { readonly at: number; readonly storey: Storey; readonly rank: number }[]
  readonly longest: number
}
const inOrder = new WeakMap<readonly Storey[], InOrder>()

function orderOf(storeys: readonly Storey[]): InOrder {
  const known = inOrder.get(storeys)
  if (known) return known
  const all = storeys.map((storey, rank) => ({ at: storey.from, storey, rank })).sort((a, b) => a.at - b.at)
  const order = { all, longest: Math.max(0, ...storeys.map(({ from, to }) => to - from)) }
  inOrder.set(storeys, order)
  return order
}

/** Those that reach into a part of the axis, in the order in which they are given. */
export function storeysWithin(storeys: readonly Storey[], from: number, to: number): Storey[] {
  const { all, longest } = orderOf(storeys)
  const found: InOrder["all"][number][] = []
  for (let i = firstFrom(all, from - longest); i < all.length && all[i]!.at < to - NEAR; i++)
    if (all[i]!.storey.to > from + NEAR) found.push(all[i]!)
  return found.sort((a, b) => a.rank - b.rank).map(one => one.storey)
}

const spanOf = (pieces: readonly StoreyPiece[]): { from: number; to: number } => {
  const [first, last] = [pieces[0]!, pieces.at(-1)!]
  return { from: first.at, to: Math.max(last.at + last.lasts, last.timed.at + last.timed.lasts) }
}

function inRows(stretches: readonly Omit<Storey, "row">[], count: number): Storey[] {
  const rows: Omit<Storey, "row">[][] = Array.from({ length: count }, () => [])
  const apart = (one: Omit<Storey, "row">, other: Omit<Storey, "row">) =>
    one.to <= other.from + 1e-9 || one.from >= other.to - 1e-9
  // rivals come best first, so that a row is the likelier one's
  return stretches.flatMap(stretch => {
    const row = rows.findIndex(taken => taken.every(other => apart(stretch, other)))
    rows[row]?.push(stretch)
    return row < 0 ? [] : [{ ...stretch, row }]
  })
}
