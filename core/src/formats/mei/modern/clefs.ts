/** A modern clef by the range of a voice. */
import type { ScorePitch, ScoreVoice } from "../../../score/index.js"
import { element, type XmlElement } from "../../xml.js"

/** Diatonic steps above C0. */
const STEPS = ["c", "d", "e", "f", "g", "a", "b"] as const
export function height({ step, octave }: Pick<ScorePitch, "step" | "octave">): number {
  return octave * 7 + STEPS.indexOf(step)
}
/** The pitch, without an accidental, at a height. */
export function pitchAt(height: number): ScorePitch {
  return { step: STEPS[height % 7]!, accidental: "", octave: Math.floor(height / 7) }
}

interface ModernClef {
  readonly attributes: Readonly<Record<string, string>>
  /** Height of the middle line. */
  readonly middle: number
}
const CLEFS: readonly ModernClef[] = [
  { attributes: { shape: "G", line: "2" }, middle: height({ step: "b", octave: 4 }) },
  { attributes: { shape: "G", line: "2", dis: "8", "dis.place": "below" }, middle: height({ step: "b", octave: 3 }) },
  { attributes: { shape: "F", line: "4" }, middle: height({ step: "d", octave: 3 }) },
]

/** The clef under which the fewest ledger lines are needed: G, G an octave lower, or F. */
export function clefFor(voice: ScoreVoice): ModernClef {
  const heights = voice.events.flatMap(event => (event.kind === "note" && event.pitch ? [height(event.pitch)] : []))
  if (heights.length === 0) return CLEFS[1]!
  const cost = ({ middle }: ModernClef) =>
    heights.reduce((total, at) => total + Math.abs(at - middle) + 4 * Math.max(0, Math.abs(at - middle) - 5), 0)
  return CLEFS.reduce((best, clef) => (cost(clef) < cost(best) ? clef : best))
}

export function clefElement({ attributes }: ModernClef): XmlElement {
  return element("clef", attributes)
}

const FLATS = ["b", "e", "a", "d", "g", "c", "f"]
const SHARPS = [...FLATS].reverse()

type Accidentals = ScoreVoice["signatures"][number]["accidentals"]

/** As "1f" where the signature is a modern one, else accidental by accidental. */
export function keySignature(accidentals: Accidentals): XmlElement {
  const alike = (kind: string, order: readonly string[]) => {
    const steps = new Set(accidentals.filter(one => one.accidental === kind).map(one => one.step as string))
    return accidentals.every(one => one.accidental === kind) &&
      order.slice(0, steps.size).every(step => steps.has(step))
      ? steps.size
      : 0
  }
  const flats = alike("f", FLATS)
  const sharps = alike("s", SHARPS)
  if (accidentals.length === 0 || flats > 0 || sharps > 0)
    return element("keySig", { sig: flats > 0 ? `${flats}f` : sharps > 0 ? `${sharps}s` : "0" })
  return element(
    "keySig",
    {},
    ...accidentals.map(({ step, accidental }) => element("keyAccid", { pname: step, accid: accidental })),
  )
}
