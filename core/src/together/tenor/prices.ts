/** The prices of a series and its slips, in bits. */
import type { Mismatch } from "./views.js"

/** What every sign of a statement costs, in bits: first what is as expected, then the slips. How they are put together: search.ts. */
export const PRICES = {
  same: 0.08,
  /** A dot, a colour, an accidental, the length of a rest's stroke is another. */
  detail: 4,
  /** Another level, pitch or duration; beside its own literal bits. */
  other: 5,
  /** A rest for a note or a note for a rest; beside its own literal bits. */
  kind: 8,
  missing: 6,
  /** Beside its own literal bits. */
  extra: 6,
  /** A statement has another shift than the one before it. */
  shift: 5,
  /** The last statement breaks off: where the voice ends, and where it goes on with something else. */
  endsInside: 1,
  leftInside: 5,
}
/** What a token costs that is so far from what the series has there. */
export function priceOf(apart: Mismatch, literal: number): number {
  if (apart === 0) return PRICES.same
  if (apart === 1) return PRICES.detail
  return literal + (apart === 2 ? PRICES.other : PRICES.kind)
}
