/**
 * Acts on their way into the database. The database takes some tens of milliseconds, more where the machine is busy, and
 * what is on its way there is lost with a window that dies; what is put here is the browser's at once. It is taken away
 * when the database has it, so as a rule nothing is here.
 */
import type { PieceRecord, Step } from "./types.js"

/** What is to be written: a step with the record after it, or the record alone. */
export interface Act {
  readonly record: PieceRecord
  readonly step?: Step
}

const nameOf = (piece: string): string => `resolutio unwritten ${piece} `

/** A change is plain JSON (core's `PageChange` says so). A browser that keeps nothing loses the safety, not the act. */
export function keepUnwritten(act: Act): void {
  try {
    localStorage.setItem(nameOf(act.record.id) + act.record.revision, JSON.stringify(act))
  } catch {
    // full, or not allowed: the database will have it soon, or say why not
  }
}

/** What is kept of the piece now holds everything up to this revision. */
export function forgetUnwritten(piece: string, revision = Infinity): void {
  for (const key of keysOf(piece)) if (revisionOf(key) <= revision) localStorage.removeItem(key)
}

/** What a window that died had not yet written, in the order in which it was done. */
export function unwritten(piece: string): Act[] {
  const acts = keysOf(piece).map(key => actIn(localStorage.getItem(key)))
  return acts.filter(act => act !== undefined).sort((a, b) => a.record.revision - b.record.revision)
}

function keysOf(piece: string): string[] {
  try {
    const keys = Array.from({ length: localStorage.length }, (_, i) => localStorage.key(i) ?? "")
    return keys.filter(key => key.startsWith(nameOf(piece)))
  } catch {
    return []
  }
}
const revisionOf = (key: string): number => Number(key.slice(key.lastIndexOf(" ") + 1))

function actIn(text: string | null): Act | undefined {
  try {
    return JSON.parse(text ?? "") as Act
  } catch {
    return undefined
  }
}
