/** What stands at the head of a modern staff: clef, signature, meter. */
import { moved, yOf, type Mark } from "../../../drawing/index.js"
import { clefFor, pitchAt } from "../../../edition/index.js"
import type { ScorePitch, ScoreVoice } from "../../../score/index.js"
import { accidentalGlyph, meterForm, modernForm, placedGlyph, type ModernForm } from "./forms.js"
import { glyph, type GlyphName } from "./glyphs.js"

const STEPS = ["c", "d", "e", "f", "g", "a", "b"]
const height = ({ step, octave }: Pick<ScorePitch, "step" | "octave">): number => octave * 7 + STEPS.indexOf(step)

/** A clef of the edition, and where pitches stand under it. */
export interface ModernClef {
  readonly glyph: GlyphName
  /** Position of the line it stands on. */
  readonly at: number
  /** Steps above the bottom line; a note without a pitch stands in the middle. */
  positionOf(pitch: Pick<ScorePitch, "step" | "octave"> | null): number
}

export function modernClef(voice: ScoreVoice): ModernClef {
  const { shape, octaveBelow, middle } = clefFor(voice)
  const name: GlyphName = shape === "F" ? "fClef" : octaveBelow ? "gClef8vb" : "gClef"
  const centre = height(pitchAt(middle))
  return {
    glyph: name,
    at: name === "fClef" ? 6 : 2,
    positionOf: pitch => (pitch === null ? 4 : height(pitch) - centre + 4),
  }
}

/** From left to right; x is 0 at the clef's left edge. */
export function openingForm(
  clef: ModernClef,
  signature: ScoreVoice["signatures"][number]["accidentals"],
  meter: { readonly count: number; readonly unit: number } | null,
): ModernForm {
  const marks: Mark[] = [placedGlyph("modern-clef", clef.glyph, 0, yOf(clef.at))]
  let x = glyph(clef.glyph).width + 0.45
  for (const { step, accidental, octave } of signature) {
    const name = accidentalGlyph(accidental)
    marks.push(placedGlyph("modern-signature", name, x, yOf(onStaff(clef, step, octave))))
    x += glyph(name).width + 0.1
  }
  if (signature.length > 0) x += 0.3
  if (meter) {
    const form = meterForm(meter)
    marks.push(...form.marks.map(mark => (mark.shape === "path" ? { ...mark, path: moved(mark.path, x, 0) } : mark)))
  }
  return modernForm(marks)
}

/** In the octave that lies on the staff. */
function onStaff(clef: ModernClef, step: ScorePitch["step"], octave: number | undefined): number {
  let position = clef.positionOf({ step, octave: octave ?? 4 })
  while (position > 8) position -= 7
  while (position < 1) position += 7
  return position
}
