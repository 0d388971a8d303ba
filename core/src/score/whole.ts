/** Notes that keep their value though they sound on over bar lines. */
import { minus, plus, ZERO } from "../base/index.js"
import type { Piece } from "./split.js"
import type { ScoreEvent } from "./types.js"
import { isDyadic, modernValue, type ModernValue } from "./values.js"

/** What becomes of one piece of a note: the sign that begins with it, or nothing where an earlier one goes on. */
export type WholePiece = { readonly value: ModernValue } | "continued"

/** The only sign that says "held", however long. */
const LONG: ModernValue = { dur: "long", dots: 0 }

export interface WholeOptions {
  readonly whole: boolean
  /** A held final is one long note. */
  readonly longFinals: boolean
  /** Lists of pieces that begin a system: what sounds over its beginning is tied there. */
  readonly systems: ReadonlySet<number>
}

/** `fresh`: it begins a system. */
type Placed = Piece & { readonly fresh: boolean }

/**
 * For each note that lies in several bars its pieces in order, as few signs as can show them; a note that is in none of
 * the lists is written bar by bar.
 */
export function wholeNotes(
  pieces: readonly (readonly Piece[])[],
  { whole, longFinals, systems }: WholeOptions,
): ReadonlyMap<ScoreEvent, readonly WholePiece[]> {
  const byEvent = new Map<ScoreEvent, Placed[]>()
  pieces.forEach((own, at) =>
    own.forEach((piece, i) => {
      const placed = { ...piece, fresh: i === 0 && systems.has(at) }
      const before = byEvent.get(piece.event)
      if (before) before.push(placed)
      else byEvent.set(piece.event, [placed])
    }),
  )
  const plans = new Map<ScoreEvent, readonly WholePiece[]>()
  for (const [event, own] of byEvent) {
    if (event.kind !== "note" || own.some(piece => !isDyadic(piece.start) || !isDyadic(piece.end))) continue
    if (longFinals && event.held)
      plans.set(
        event,
        own.map(({ fresh }, i) => (i === 0 || fresh ? { value: LONG } : "continued")),
      )
    else if (whole && own.length > 1) {
      const plan = fewest(own)
      if (plan) plans.set(event, plan)
    }
  }
  return plans
}

/** From each piece on, as many as one sign can show; undefined where a piece by itself needs several. */
function fewest(pieces: readonly Placed[]): WholePiece[] | undefined {
  const plan: WholePiece[] = []
  while (plan.length < pieces.length) {
    let best: { value: ModernValue; count: number } | undefined
    let sum = ZERO
    for (let end = plan.length; end < pieces.length; end++) {
      const { fresh, start, end: stop } = pieces[end]!
      if (fresh && end > plan.length) break
      sum = plus(sum, minus(stop, start))
      const value = modernValue(sum)
      if (value) best = { value, count: end - plan.length + 1 }
    }
    if (!best) return undefined
    plan.push({ value: best.value }, ...Array.from({ length: best.count - 1 }, () => "continued" as const))
  }
  return plan
}
