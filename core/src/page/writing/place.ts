/** Where something is put when it is written behind a sign. */
import type { SignId, VoiceId } from "../../base/index.js"
import type { PageChange } from "../change.js"
import type { Page, Voice } from "../page.js"
import type { Clef, Ligature, Pitch, Sign, Step } from "../signs.js"
import { flatSigns, type FlatSign } from "../walk.js"

/** Behind a sign of a voice; at its beginning without `after`. */
export interface Spot {
  readonly voice: VoiceId
  readonly after?: SignId
}

export interface Around {
  readonly voice: Voice
  readonly flat: readonly FlatSign[]
  /** Index of the sign behind which one writes; -1 at the beginning. */
  readonly at: number
}

export function around(page: Page, { voice: id, after }: Spot): Around | undefined {
  const voice = page.voices.find(one => one.id === id)
  if (!voice) return undefined
  const flat = flatSigns(voice)
  const at = flat.findLastIndex(one => one.sign.id === after || one.ligature?.id === after)
  return after !== undefined && at < 0 ? undefined : { voice, flat, at }
}

/** The ligature that goes on behind the spot: what is a note, dot or rest is put into it. */
export const openLigature = ({ flat, at }: Around): Ligature | undefined => {
  const here = flat[at]?.ligature
  return here !== undefined && flat[at + 1]?.ligature === here ? here : undefined
}

/** Puts the sign at the spot: into the ligature that goes on there, or between the signs of the voice. */
export function inserting(spot: Around, sign: Sign): PageChange {
  const { voice, flat, at } = spot
  const next = flat[at + 1]
  const ligature = openLigature(spot)
  const before = ligature ? next?.sign.id : (next?.ligature?.id ?? next?.sign.id)
  return {
    kind: "insert-sign",
    voice: voice.id,
    ...(ligature && { ligature: ligature.id }),
    ...(before !== undefined && { before }),
    sign,
  }
}

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
const heightOf = ({ step, octave }: Pitch): number => octave * 7 + STEPS.indexOf(step)
/** So many steps higher. */
export function moved(pitch: Pitch, by: number): Pitch {
  const height = heightOf(pitch) + by
  return { step: STEPS[((height % 7) + 7) % 7]!, octave: Math.floor(height / 7) }
}

/** Where each clef's own pitch is, and so a pitch in the middle of the staff. */
const CLEF_PITCH: Readonly<Record<string, Pitch>> = {
  C: { step: "c", octave: 4 },
  F: { step: "f", octave: 3 },
  G: { step: "g", octave: 4 },
  GG: { step: "g", octave: 3 },
}

/** The pitch so many steps above the bottom line, by the clef in force. */
export function pitchOn({ flat, at }: Around, height: number): Pitch {
  for (let i = at; i >= 0; i--) {
    const { sign } = flat[i]!
    if (sign.kind === "clef") return moved(bottomOf(sign), height)
  }
  return moved(bottomOf({ shape: "C", line: 3 }), height)
}
/** The pitch of the bottom line. */
const bottomOf = ({ shape, line, octaveShift = 0 }: Pick<Clef, "shape" | "line" | "octaveShift">): Pitch =>
  moved(CLEF_PITCH[shape]!, 7 * octaveShift - 2 * (line - 1))

/** The pitch of that name nearest to the note before; without one, to the middle of the staff by the clef in force. */
export function nearest(step: Step, { voice, flat, at }: Around): Pitch {
  let near: Pitch | undefined
  for (let i = at; i >= 0 && near === undefined; i--) {
    const { sign } = flat[i]!
    if (sign.kind === "note") near = sign.pitch
    else if (sign.kind === "clef") near = moved(bottomOf(sign), voice.lines - 1)
  }
  const from = heightOf(near ?? { step: "c", octave: 4 })
  const up = (((STEPS.indexOf(step) - from) % 7) + 7) % 7
  return moved({ step: STEPS[((from % 7) + 7) % 7]!, octave: Math.floor(from / 7) }, up > 3 ? up - 7 : up)
}
