/** Sounding names: the letter, the accidental in force, the octave; and the pitch of a plica. */
import type { FlatSign, Note, Pitch, Step } from "../page/index.js"

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]

export const stepNumber = (pitch: Pitch): number => pitch.octave * 7 + STEPS.indexOf(pitch.step)
export const pitchAtStep = (step: number): Pitch => ({
  step: STEPS[((step % 7) + 7) % 7]!,
  octave: Math.floor(step / 7),
})

/**
 * The accidental in force for each note: its own, else one that stands alone before it on its pitch (to the next break
 * of line or another sign for it), else the signature's. Common practice of editors; the file's accid.ges overrules it.
 */
export class SoundingPitches {
  private readonly signature = new Map<string, string>()
  private readonly local = new Map<string, string>()
  private at = 0

  constructor(private readonly flat: readonly FlatSign[]) {}

  /** Name of the note at an index of the flat signs, null for what has no pitch. To be asked from left to right. */
  nameAt(index: number): string | null {
    for (; this.at < index; this.at++) this.meet(this.flat[this.at]!.sign)
    const { sign } = this.flat[index]!
    if (sign.kind !== "note" || sign.pitch === undefined) return null
    return pitchName(sign.pitch, accidentalOf(sign, sign.pitch, this.signature, this.local))
  }

  private meet(sign: FlatSign["sign"]): void {
    if (sign.kind === "note") return
    if (sign.kind === "signature") {
      this.signature.clear()
      for (const one of sign.accidentals) this.signature.set(one.step, one.accidental)
    } else if (sign.kind === "accidental" && sign.pitch)
      this.local.set(`${sign.pitch.step}${sign.pitch.octave}`, sign.accidental)
    else if (sign.kind === "break") this.local.clear()
  }
}

/** Whether other notes may sound otherwise because of the sign. */
export const bearsOnPitches = ({ sign }: FlatSign): boolean =>
  sign.kind === "signature" || sign.kind === "accidental" || sign.kind === "break"

function accidentalOf(
  note: Note,
  pitch: Pitch,
  signature: ReadonlyMap<string, string>,
  local: ReadonlyMap<string, string>,
): string {
  const found =
    note.accidentalInForce ??
    note.accidental ??
    (local.size > 0 ? local.get(`${pitch.step}${pitch.octave}`) : undefined) ??
    (signature.size > 0 ? signature.get(pitch.step) : undefined) ??
    ""
  return found === "n" ? "" : found
}

/** Names made so far, by accidental and step: the notes of a long voice share a few dozen. */
const names = new Map<string, Map<number, string>>()
const MOST_NAMES = 1024

export function pitchName(pitch: Pitch, accidental: string): string {
  const step = stepNumber(pitch)
  const known = names.get(accidental)?.get(step)
  if (known !== undefined) return known
  const name = `${pitch.step}${accidental}${pitch.octave}`
  const bySteps = names.get(accidental) ?? new Map<number, string>()
  if (names.size < MOST_NAMES && bySteps.size < MOST_NAMES) names.set(accidental, bySteps.set(step, name))
  return name
}

/** Step of the plica's note against its own, by the note that follows; certain only for unison and third (common practice). */
export function plicaStep(
  direction: "up" | "down",
  own: Pitch,
  next: Pitch | undefined,
): { step: number; certain: boolean } {
  const way = direction === "up" ? 1 : -1
  if (next === undefined) return { step: way, certain: false }
  const distance = (stepNumber(next) - stepNumber(own)) * way
  return { step: way, certain: distance === 0 || distance === 2 }
}
