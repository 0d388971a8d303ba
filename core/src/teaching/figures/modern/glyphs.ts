/** Outlines of modern signs by their SMuFL names, in staff spaces; y is 0 where the sign stands and grows downwards. */
import type { Path, PathStep } from "../../../drawing/index.js"
import { GLYPHS } from "./glyphs.generated.js"

export type GlyphName = keyof typeof GLYPHS
export interface Glyph {
  readonly path: Path
  /** Advance width. */
  readonly width: number
}

const read = new Map<GlyphName, Glyph>()

export function glyph(name: GlyphName): Glyph {
  const known = read.get(name)
  if (known) return known
  const [width, text] = GLYPHS[name]
  const own = { width, path: parsed(text) }
  read.set(name, own)
  return own
}

function parsed(text: string): Path {
  return [...text.matchAll(/([MLQCZ])([^MLQCZ]*)/g)].map(([, letter, numbers]) => {
    const values = numbers!.trim() === "" ? [] : numbers!.trim().split(" ").map(Number)
    return [letter, ...values] as unknown as PathStep
  })
}
