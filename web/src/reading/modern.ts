/** The score in modern notation, as text for the engraver. Loaded when it is first wanted. */
import { modernMei, TooShort, type Score } from "@resolutio/core"
import type { Modern } from "./messages.js"

export function modernOf(score: Score): Modern {
  try {
    return { ok: true, mei: modernMei(score) }
  } catch (error) {
    if (error instanceof TooShort) return { ok: false, why: error.message }
    throw error
  }
}
