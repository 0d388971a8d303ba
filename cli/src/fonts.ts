/** The two typefaces as files, and their letters as outlines. */
import { createRequire } from "node:module"
import type { Path, PathStep, TextMark, TypeStyle } from "@resolutio/core"

const require = createRequire(import.meta.url)
const file = (family: string, face: string, name: string) => () =>
  require.resolve(`@expo-google-fonts/${family}/${face}/${name}_${face}.ttf`)

const FILES = {
  "words-400": file("alegreya", "400Regular", "Alegreya"),
  "words-400-italic": file("alegreya", "400Regular_Italic", "Alegreya"),
  "words-700": file("alegreya", "700Bold", "Alegreya"),
  "words-700-italic": file("alegreya", "700Bold_Italic", "Alegreya"),
  "figures-400": file("source-sans-3", "400Regular", "SourceSans3"),
  "figures-400-italic": file("source-sans-3", "400Regular_Italic", "SourceSans3"),
  "figures-600": file("source-sans-3", "600SemiBold", "SourceSans3"),
  "figures-700": file("source-sans-3", "700Bold", "SourceSans3"),
} as const
export type Face = keyof typeof FILES

export const FACES = Object.keys(FILES) as Face[]
export const fontFile = (face: Face): string => FILES[face]()

/** The face for a type; a weight or slope that there is no file for takes the nearest. */
export function faceOf({ family, weight = 400, italic = false }: Omit<TypeStyle, "size">): Face {
  if (family === "words") return `words-${weight >= 600 ? 700 : 400}${italic ? "-italic" : ""}`
  if (weight === 400) return italic ? "figures-400-italic" : "figures-400"
  return weight === 600 ? "figures-600" : "figures-700"
}

/** Draws texts as outlines, as wide as their marks ask for. The reader of fonts is loaded when this is called. */
export async function textOutliner(): Promise<(text: TextMark) => Path> {
  const { openSync } = await import("fontkit")
  const fonts = new Map<Face, ReturnType<typeof openSync>>()
  return mark => {
    const face = faceOf(mark.type)
    const font = fonts.get(face) ?? openSync(fontFile(face))
    fonts.set(face, font)
    return outlineOf(font.layout(mark.text), mark.type.size / font.unitsPerEm, mark.length)
  }
}

type Run = ReturnType<ReturnType<typeof import("fontkit").openSync>["layout"]>

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
