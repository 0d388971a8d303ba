/** Readings of a lawful piece against its true durations, finals left out. */
import { equals, sum, type Rational } from "../../base/index.js"
import type { Reading } from "../../reading/types.js"
import type { LawfulPiece } from "./writing.js"

export class PieceTally {
  pieces = 0
  meeting = 0
  notes = 0
  wrong = 0
  sure = 0
  sureWrong = 0

  add(piece: LawfulPiece, readings: readonly Reading[]): void {
    this.pieces++
    if (doMeet(readings)) this.meeting++
    for (const reading of readings)
      for (const sign of reading.signs) {
        const wanted = piece.durations.get(sign.id)
        if (wanted === undefined || piece.finals.has(sign.id)) continue
        const wrong = equals(wanted, sign.duration) ? 0 : 1
        this.notes++
        this.wrong += wrong
        if (sign.doubt >= 0.05) continue
        this.sure++
        this.sureWrong += wrong
      }
  }
}

/** All voices reach their finals at the same time. */
export function doMeet(readings: readonly Reading[]): boolean {
  const onsets = readings.map(reading => reading.signs.findLast(sign => sign.kind === "note")?.onset)
  return onsets.every(onset => onset !== undefined && equals(onset, onsets[0]!))
}

/** True length of each voice up to its final, in the page's order. */
export function trueLengths({ page, durations, finals }: LawfulPiece): readonly Rational[] {
  const ends = new Map<string, Rational[]>(page.voices.map(voice => [voice.label, []]))
  for (const [id, duration] of durations) {
    const label = id.slice(0, id.lastIndexOf("."))
    ends.get(label)!.push(duration)
    if (finals.has(id)) ends.get(label)!.pop()
  }
  return page.voices.map(voice => sum(ends.get(voice.label)!))
}
