/** The faces of the two typefaces, and their letters as outlines. Whoever uses them brings their bytes. */
import type { Path, PathStep, TextMark, TypeStyle } from "@resolutio/core"

export const FACES = [
  "words-400",
  "words-400-italic",
  "words-700",
  "words-700-italic",
  "figures-400",
  "figures-400-italic",
  "figures-600",
  "figures-700",
] as const
export type Face = (typeof FACES)[number]

/** The bytes of each face's file (TrueType). */
export type Typefaces = ReadonlyMap<Face, Uint8Array>

/** The bytes of a face; throws where they were not brought. */
export function bytesOf(typefaces: Typefaces, face: Face): Uint8Array {
  const bytes = typefaces.get(face)
  if (!bytes) throw new Error(`the typeface ${face} was not brought`)
  return bytes
}

/** The face for a type; a weight or slope that there is no file for takes the nearest. */
export function faceOf({ family, weight = 400, italic = false }: Omit<TypeStyle, "size">): Face {
  if (family === "words") return `words-${weight >= 600 ? 700 : 400}${italic ? "-italic" : ""}`
  if (weight === 400) return italic ? "figures-400-italic" : "figures-400"
  return weight === 600 ? "figures-600" : "figures-700"
}

/** Draws texts as outlines, as wide as their marks ask for. The reader of fonts is loaded when this is called. */
export async function textOutliner(typefaces: Typefaces): Promise<(text: TextMark) => Path> {
  const { create } = await import("fontkit")
  const fonts = new Map<Face, ReturnType<typeof create>>()
  return mark => {
    const face = faceOf(mark.type)
    const font = fonts.get(face) ?? create(bytesOf(typefaces, face))
    fonts.set(face, font)
    return outlineOf(font.layout(mark.text), mark.type.size / font.unitsPerEm, mark.length)
  }
}

type Run = ReturnType<ReturnType<typeof import("fontkit").create>["layout"]>

function outlineOf({ glyphs, positions }: Run, scale: number, length: number | undefined): Path {
  const natural = positions.reduce((sum, { xAdvance }) => sum + xAdvance, 0) * scale
  const stretch = length !== undefined && natural > 0 ? length / natural : 1
  const steps: PathStep[] = []
  let pen = 0
  glyphs.forEach((glyph, i) => {
    const { xAdvance, xOffset, yOffset } = positions[i]!
    for (const { command, args } of glyph.path.commands) {
      const points = args.map((value, at) =>
        at % 2 === 0 ? (pen + xOffset + value) * scale * stretch : -(yOffset + value) * scale,
      )
      steps.push([STEPS[command] ?? "Z", ...points] as unknown as PathStep)
    }
    pen += xAdvance
  })
  return steps
}
const STEPS: Readonly<Record<string, PathStep[0]>> = {
  moveTo: "M",
  lineTo: "L",
  quadraticCurveTo: "Q",
  bezierCurveTo: "C",
  closePath: "Z",
}
