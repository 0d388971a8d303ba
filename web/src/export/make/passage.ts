/** Which part of a piece, and which of its voices, a file is of. */
import { plus, type PassagePart, type Reading } from "@resolutio/core"
import type { Known } from "../formats.js"
import type { Wishes } from "../offered.js"

/** Of several signs that are chosen the passage from the first to the last; else the whole. */
export function chosenPart({ score, wishes }: Known): PassagePart {
  const chosen = new Set(wishes.chosen)
  const voice = score.voices.find(({ events }) => events.some(({ sign }) => sign !== null && chosen.has(sign)))
  const events = voice?.events.filter(({ sign }) => sign !== null && chosen.has(sign)) ?? []
  const [first, last] = [events[0], events.at(-1)]
  if (!voice || !first || !last || events.length < 2) return {}
  const duration = last.kind === "note" && last.held ? last.readDuration : last.duration
  return { from: first.onset, to: plus(last.onset, duration), voices: [voice.n] }
}

/** Where only what is chosen is wanted: its moments, in all voices. */
export function momentsWished(piece: Known): Pick<PassagePart, "from" | "to"> {
  if (!piece.wishes.passage) return {}
  const { from, to } = chosenPart(piece)
  return from && to ? { from, to } : {}
}

/** Those that were named, or all. */
export function voicesWished(readings: readonly Reading[], { voices }: Wishes): readonly Reading[] {
  const named = readings.filter(one => voices.includes(one.n))
  return named.length > 0 ? named : readings
}
