/** How far a voice goes down and up. */
import { height } from "../edition/clefs.js"
import type { ScorePitch, ScoreVoice } from "../score/index.js"

export interface Ambitus {
  readonly lowest: ScorePitch
  readonly highest: ScorePitch
}

/** The lowest and the highest note as they sound, plicas among them; undefined where a voice has no pitch. */
export function ambitusOf({ events }: Pick<ScoreVoice, "events">): Ambitus | undefined {
  let lowest: ScorePitch | undefined
  let highest: ScorePitch | undefined
  for (const event of events) {
    if (event.kind !== "note") continue
    for (const pitch of [event.pitch, event.plica?.pitch]) {
      if (!pitch) continue
      if (!lowest || sounding(pitch) < sounding(lowest)) lowest = pitch
      if (!highest || sounding(pitch) > sounding(highest)) highest = pitch
    }
  }
  return lowest && highest && { lowest, highest }
}

const ALTERED: Readonly<Record<string, number>> = { s: 1, x: 2, ss: 2, f: -1, ff: -2 }
/** By staff step first, then by what alters it. */
const sounding = (pitch: ScorePitch): number => height(pitch) * 10 + (ALTERED[pitch.accidental] ?? 0)
