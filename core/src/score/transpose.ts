/** A part sung at another pitch, or turned upside down. */
import type { Accidental, Pitch, Signature, Step } from "../page/index.js"
import type { SungVoice } from "../reading/index.js"
import { modernAccidental } from "./accidentals.js"
import type { ScorePitch } from "./types.js"

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
/** Semitones of the plain steps above c. */
const SEMITONES = [0, 2, 4, 5, 7, 9, 11]
const SIGNS: Readonly<Record<string, number>> = { "": 0, n: 0, s: 1, f: -1, x: 2, ss: 2, ff: -2 }
const NAMES: Readonly<Record<number, Accidental>> = { [-2]: "ff", [-1]: "f", 0: "", 1: "s", 2: "x" }

const heightOf = ({ step, octave }: Pitch): number => octave * 7 + STEPS.indexOf(step)
function pitchAt(height: number): Pitch {
  return { step: STEPS[((height % 7) + 7) % 7]!, octave: Math.floor(height / 7) }
}
const semitonesAt = (height: number): number => 12 * Math.floor(height / 7) + SEMITONES[((height % 7) + 7) % 7]!

/** Semitones of a perfect unison, fourth, fifth and octave, by steps within the octave. */
const PERFECT: Readonly<Record<number, number>> = { 0: 0, 3: 5, 4: 7 }

type Signed = Signature["accidentals"]

/** Where each pitch of a part goes. */
export interface Transposer {
  pitch(pitch: ScorePitch): ScorePitch
  /** What stands before a note: its own accidental as it is at the other pitch. */
  written(pitch: Pitch, accidental: Accidental): Accidental
  signature(accidentals: Signed): Signed
  readonly moves: boolean
}

/** `turnedAbout`: the pitch about which it is turned upside down before it is moved. */
export function transposer(
  { interval = 1, steps }: Pick<SungVoice, "interval" | "steps">,
  signatureInForce: Signed,
  turnedAbout?: Pitch,
): Transposer {
  const up = Math.sign(interval) * (Math.abs(interval) - 1)
  const perfect = PERFECT[Math.abs(up) % 7]
  const semitones =
    perfect === undefined || turnedAbout ? undefined : Math.sign(up) * (12 * Math.floor(Math.abs(up) / 7) + perfect)
  const exact = steps === "diatonic" ? undefined : semitones
  const moved = (height: number): number => (turnedAbout ? 2 * heightOf(turnedAbout) - height : height) + up
  const usual = new Map<Step, number>(signatureInForce.map(one => [one.step, alterationOf(one.step, one.accidental)]))
  const alteration = (height: number, own: number, isSign: boolean): number => {
    const to = moved(height)
    if (exact !== undefined) {
      const wanted = semitonesAt(height) + own + exact - semitonesAt(to)
      // a sharp that the part does not have is no answer within the gamut
      return wanted > 0 && own <= 0 && !isSign && steps !== "exact" ? 0 : wanted
    }
    const plain = usual.get(pitchAt(height).step) ?? 0
    const there = usual.get(pitchAt(to).step) ?? 0
    return !isSign && own === plain ? there : turnedAbout ? -own : own
  }
  return {
    moves: up !== 0 || turnedAbout !== undefined,
    pitch: pitch => {
      const height = heightOf(pitch)
      const own = SIGNS[pitch.accidental]
      if (own === undefined) return { ...pitch, ...pitchAt(moved(height)) }
      return { ...pitchAt(moved(height)), accidental: NAMES[alteration(height, own, false)] ?? "" }
    },
    written: (pitch, accidental) => {
      const own = SIGNS[modernAccidental(pitch.step, accidental)]
      return own === undefined ? accidental : NAMES[alteration(heightOf(pitch), own, true)] || "n"
    },
    signature: accidentals => (exact === undefined ? accidentals : movedSignature(accidentals, moved, exact, steps)),
  }
}

const alterationOf = (step: Step, accidental: Accidental): number => SIGNS[modernAccidental(step, accidental)] ?? 0

function movedSignature(
  accidentals: Signed,
  moved: (height: number) => number,
  exact: number,
  steps: SungVoice["steps"],
): Signed {
  const own = new Map(accidentals.map(one => [one.step, alterationOf(one.step, one.accidental)]))
  return STEPS.flatMap((step, at) => {
    const height = 4 * 7 + at
    const from = own.get(step) ?? 0
    const wanted = semitonesAt(height) + from + exact - semitonesAt(moved(height))
    const alteration = wanted > 0 && from <= 0 && steps !== "exact" ? 0 : wanted
    const accidental = NAMES[alteration]
    return alteration !== 0 && accidental ? [{ step: pitchAt(moved(height)).step, accidental }] : []
  })
}
