/** What files are made with: typefaces, the sound bank and the maker of PNG, had from the packages on this disk. */
import { readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { FACES, type Face, type PageFont, type Raster, type Tools, type Typefaces } from "@resolutio/press"

const require = createRequire(import.meta.url)
const file = (family: string, face: string, name: string) => () =>
  require.resolve(`@expo-google-fonts/${family}/${face}/${name}_${face}.ttf`)

const FILES: Readonly<Record<Face, () => string>> = {
  "words-400": file("alegreya", "400Regular", "Alegreya"),
  "words-400-italic": file("alegreya", "400Regular_Italic", "Alegreya"),
  "words-700": file("alegreya", "700Bold", "Alegreya"),
  "words-700-italic": file("alegreya", "700Bold_Italic", "Alegreya"),
  "figures-400": file("source-sans-3", "400Regular", "SourceSans3"),
  "figures-400-italic": file("source-sans-3", "400Regular_Italic", "SourceSans3"),
  "figures-600": file("source-sans-3", "600SemiBold", "SourceSans3"),
  "figures-700": file("source-sans-3", "700Bold", "SourceSans3"),
}

const typefaces = (): Promise<Typefaces> =>
  Promise.resolve(new Map(FACES.map(face => [face, readFileSync(FILES[face]())])))

async function png(svg: string, { scale = 1, ground }: Raster): Promise<Uint8Array> {
  const { Resvg } = await import("@resvg/resvg-js")
  const fontFiles = FACES.map(face => FILES[face]())
  const font = { loadSystemFonts: false, fontFiles, defaultFontFamily: "Alegreya" }
  const fitTo = { mode: "zoom", value: scale } as const
  return new Resvg(svg, { font, fitTo, ...(ground ? { background: ground } : {}) }).render().asPng()
}

/** A copy of its own: the synthesizer may write into it. */
export const bank = (): Promise<ArrayBuffer> =>
  Promise.resolve(Uint8Array.from(readFileSync(require.resolve("@resolutio/core/sound/voices.sf3"))).buffer)

const woff2 = (name: string): Uint8Array => readFileSync(require.resolve(`@fontsource/${name}.woff2`))
const pageFonts = (): Promise<readonly PageFont[]> =>
  Promise.resolve([
    { family: "Alegreya", weight: 400, italic: false, woff2: woff2("alegreya/files/alegreya-latin-400-normal") },
    { family: "Alegreya", weight: 400, italic: true, woff2: woff2("alegreya/files/alegreya-latin-400-italic") },
    { family: "Alegreya", weight: 700, italic: false, woff2: woff2("alegreya/files/alegreya-latin-700-normal") },
    ...([400, 600] as const).map(weight => ({
      family: "Source Sans 3" as const,
      weight,
      italic: false,
      woff2: woff2(`source-sans-3/files/source-sans-3-latin-${weight}-normal`),
    })),
  ])

export const TOOLS: Tools = { typefaces, png, bank, pageFonts }
