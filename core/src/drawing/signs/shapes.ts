/**
 * Special shapes: the words of the trade, those that a piece defines for itself, and the names of SMuFL's medieval and
 * Renaissance notes (version 1.4, U+E930 to U+E96F), of which head, filling, stems and flags can be told.
 */
import type { Coloration, Level, LocalShape, Note, Stem } from "../../page/index.js"

export type Shapes = ReadonlyMap<string, LocalShape>

export const shapesOf = (shapes: readonly LocalShape[]): Shapes | undefined =>
  shapes.length === 0 ? undefined : new Map(shapes.map(shape => [shape.name, shape]))

/** The note with what its shape says of its looks, where the note itself says nothing of them. */
export function shaped(note: Note, shapes: Shapes | undefined): Note {
  if (note.shape === undefined) return note
  const defined = shapes?.get(note.shape)
  const look = glyphLook(defined?.glyph ?? note.shape)
  const level = note.level ?? defined?.level ?? look.level
  return {
    ...note,
    ...(level === undefined ? {} : { level }),
    ...(look.shape === undefined ? {} : { shape: look.shape }),
    coloration: note.coloration === "none" ? (look.coloration ?? "none") : note.coloration,
    stems: note.stems.length > 0 ? note.stems : (look.stems ?? []),
  }
}

interface GlyphLook {
  readonly level?: Level
  readonly coloration?: Coloration
  readonly stems?: readonly Stem[]
  readonly shape?: string
}

const LEVELS: readonly (readonly [RegExp, Level])[] = [
  [/Maxima/, "maxima"],
  [/Longa/, "longa"],
  [/Semibrevis/, "semibrevis"],
  [/Brevis/, "brevis"],
  [/Semiminima/, "semiminima"],
  [/Minima/, "minima"],
  [/Dragma/, "semibrevis"],
  [/Fusa/, "fusa"],
]

/** "mensuralCombStemUpFlagRight", "mensuralBlackDragma" …: what their words say. Nothing of a name that is none of these. */
export function glyphLook(name: string): GlyphLook {
  if (!/^(mensural|chant|medRen)/.test(name)) return {}
  const level = LEVELS.find(([word]) => word.test(name) && !/CombStem/.test(name))?.[1]
  const stems = stemsIn(name)
  return {
    ...(level ? { level } : {}),
    ...(/Void|White/.test(name) ? { coloration: "void" as const } : {}),
    ...(stems.length > 0 ? { stems } : {}),
    ...(/Dragma/.test(name) ? { shape: "dragma" } : {}),
  }
}

function stemsIn(name: string): readonly Stem[] {
  if (/Caudata/.test(name)) return [{ direction: "down", position: "center" }]
  if (/Oblique|StemDiagonal/.test(name)) return [{ direction: "se", form: "oblique" }]
  if (!/Stem/.test(name)) return []
  const direction = /StemDown/.test(name) ? "down" : "up"
  const flag = flagIn(name)
  return [{ direction, position: "center", ...(flag ? { flag } : {}) }]
}

function flagIn(name: string): Stem["flag"] | undefined {
  if (!/Flag/.test(name)) return undefined
  const form = /Flared/.test(name) ? "flared" : /Extended/.test(name) ? "extended" : undefined
  return { position: /FlagLeft/.test(name) ? "left" : "right", ...(form ? { form } : {}) }
}
