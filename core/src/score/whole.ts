/** Notes that keep their value though they sound on over bar lines. */
import { minus, plus, ZERO, type Rational } from "../base/index.js"
import type { Piece } from "./split.js"
import type { ScoreEvent } from "./types.js"
import { isDyadic, modernValue, type ModernValue } from "./values.js"

/** What becomes of one piece of a note: the sign that begins with it, or nothing where an earlier one goes on. */
export type WholePiece = { readonly value: ModernValue } | "continued"

/** The only sign that says "held", however long. */
const LONG: ModernValue = { dur: "long", dots: 0 }

/**
 * For each note that lies in several bars its pieces in order, as few signs as can show them; a note that is in none of
 * the lists is written bar by bar. With `longFinals` a held final is one long note.
 */
export function wholeNotes(
  pieces: readonly (readonly Piece[])[],
  { whole, longFinals }: { readonly whole: boolean; readonly longFinals: boolean },
): ReadonlyMap<ScoreEvent, readonly WholePiece[]> {
  const byEvent = new Map<ScoreEvent, Piece[]>()
  for (const piece of pieces.flat()) {
    const own = byEvent.get(piece.event)
    if (own) own.push(piece)
    else byEvent.set(piece.event, [piece])
  }
  const plans = new Map<ScoreEvent, readonly WholePiece[]>()
  for (const [event, own] of byEvent) {
    if (event.kind !== "note" || own.some(piece => !isDyadic(piece.start) || !isDyadic(piece.end))) continue
    if (longFinals && event.held)
      plans.set(
        event,
        own.map((_, i) => (i === 0 ? { value: LONG } : "continued")),
      )
    else if (whole && own.length > 1) {
      const plan = fewest(own.map(piece => minus(piece.end, piece.start)))
      if (plan) plans.set(event, plan)
    }
  }
  return plans
}

/** From each piece on, as many as one sign can show; undefined where a piece by itself needs several. */
function fewest(lengths: readonly Rational[]): WholePiece[] | undefined {
  const plan: WholePiece[] = []
  while (plan.length < lengths.length) {
    let best: { value: ModernValue; count: number } | undefined
    let sum = ZERO
    for (let end = plan.length; end < lengths.length; end++) {
      sum = plus(sum, lengths[end]!)
      const value = modernValue(sum)
      if (value) best = { value, count: end - plan.length + 1 }
    }
    if (!best) return undefined
    plan.push({ value: best.value }, ...Array.from({ length: best.count - 1 }, () => "continued" as const))
  }
  return plan
}
