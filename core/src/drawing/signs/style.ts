/** How a voice is drawn: its ink by habit, its lines, and the clef under which a voice without one is set. */
import { flatSigns, type Voice } from "../../page/index.js"
import { USUAL_CLEF, positionOf, type ClefPlace } from "./clefs.js"
import { HIGHEST, LOWEST, within, type SignStyle } from "./drawn.js"
import type { Shapes } from "./shapes.js"

/** White notation where the voice or its practice says so; black else. */
export function styleOf(
  { lines, notation, practice }: Pick<Voice, "lines" | "notation" | "practice">,
  shapes?: Shapes,
): SignStyle {
  const white = notation === "white" || (notation === "unknown" && practice?.name === "white")
  return {
    lines: Math.min(12, Math.max(1, lines)),
    white,
    clefs: white ? "ladder" : practice !== undefined && LETTERS.has(practice.name) ? "letter" : "square",
    ...(shapes ? { shapes } : {}),
  }
}

/** Practices in whose books clefs are still plain letters. */
const LETTERS: ReadonlySet<string> = new Set(["modal"])

/**
 * The clef before a voice's own first one: c on the middle line of five; in a voice that has none the one under which its notes
 * lie about the middle of the staff. It is not drawn.
 */
export function clefFor(voice: Pick<Voice, "signs">, { lines }: Pick<SignStyle, "lines">): ClefPlace {
  if (voice.signs.some(sign => sign.kind === "clef")) return USUAL_CLEF
  const heights = flatSigns(voice)
    .flatMap(({ sign }) => (sign.kind === "note" && sign.pitch ? [sign.pitch] : []))
    .map(pitch => within(positionOf(pitch, USUAL_CLEF), LOWEST, HIGHEST))
    .sort((one, other) => one - other)
  const middle = heights[heights.length >> 1] ?? lines - 1
  return { shape: "C", line: USUAL_CLEF.line - Math.round((middle - (lines - 1)) / 2) }
}
