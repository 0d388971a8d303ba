/** What files are made with: typefaces, the sound bank and the maker of PNG, fetched from the site when they are wanted. */
import words400 from "@expo-google-fonts/alegreya/400Regular/Alegreya_400Regular.ttf?url"
import words400Italic from "@expo-google-fonts/alegreya/400Regular_Italic/Alegreya_400Regular_Italic.ttf?url"
import words700 from "@expo-google-fonts/alegreya/700Bold/Alegreya_700Bold.ttf?url"
import words700Italic from "@expo-google-fonts/alegreya/700Bold_Italic/Alegreya_700Bold_Italic.ttf?url"
import figures400 from "@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf?url"
import figures400Italic from "@expo-google-fonts/source-sans-3/400Regular_Italic/SourceSans3_400Regular_Italic.ttf?url"
import figures600 from "@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf?url"
import figures700 from "@expo-google-fonts/source-sans-3/700Bold/SourceSans3_700Bold.ttf?url"
import shown400 from "@fontsource/alegreya/files/alegreya-latin-400-normal.woff2?url"
import shown400Italic from "@fontsource/alegreya/files/alegreya-latin-400-italic.woff2?url"
import shown700 from "@fontsource/alegreya/files/alegreya-latin-700-normal.woff2?url"
import shownFigures400 from "@fontsource/source-sans-3/files/source-sans-3-latin-400-normal.woff2?url"
import shownFigures600 from "@fontsource/source-sans-3/files/source-sans-3-latin-600-normal.woff2?url"
import bankAddress from "@resolutio/core/sound/voices.sf3?url"
import type { Face, PageFont, Raster, Tools, Typefaces } from "@resolutio/press"
import rasterAddress from "@resvg/resvg-wasm/index_bg.wasm?url"

const FILES: Readonly<Record<Face, string>> = {
  "words-400": words400,
  "words-400-italic": words400Italic,
  "words-700": words700,
  "words-700-italic": words700Italic,
  "figures-400": figures400,
  "figures-400-italic": figures400Italic,
  "figures-600": figures600,
  "figures-700": figures700,
}

const PAGE_FONTS = [
  { family: "Alegreya", weight: 400, italic: false, address: shown400 },
  { family: "Alegreya", weight: 400, italic: true, address: shown400Italic },
  { family: "Alegreya", weight: 700, italic: false, address: shown700 },
  { family: "Source Sans 3", weight: 400, italic: false, address: shownFigures400 },
  { family: "Source Sans 3", weight: 600, italic: false, address: shownFigures600 },
] as const

/** Addresses are those of the worker's own folder. */
async function fetched(address: string): Promise<ArrayBuffer> {
  const answer = await fetch(address)
  if (!answer.ok) throw new Error(`${address.slice(address.lastIndexOf("/") + 1)} could not be loaded`)
  return answer.arrayBuffer()
}

let faces: Promise<Typefaces> | undefined
const typefaces = (): Promise<Typefaces> => (faces ??= fetchedFaces())

async function fetchedFaces(): Promise<Typefaces> {
  const all = Object.entries(FILES) as [Face, string][]
  const bytes = await Promise.all(all.map(([, address]) => fetched(address)))
  return new Map(all.map(([face], i) => [face, new Uint8Array(bytes[i]!)]))
}

let rasterizer: Promise<typeof import("@resvg/resvg-wasm")> | undefined

async function startedRasterizer(): Promise<typeof import("@resvg/resvg-wasm")> {
  const [raster, program] = await Promise.all([import("@resvg/resvg-wasm"), fetched(rasterAddress)])
  await raster.initWasm(program)
  return raster
}

async function png(svg: string, { scale = 1, ground }: Raster): Promise<Uint8Array> {
  const [{ Resvg }, fonts] = await Promise.all([(rasterizer ??= startedRasterizer()), typefaces()])
  const font = { loadSystemFonts: false, fontBuffers: [...fonts.values()], defaultFontFamily: "Alegreya" }
  const drawn = new Resvg(svg, {
    font,
    fitTo: { mode: "zoom", value: scale },
    ...(ground ? { background: ground } : {}),
  })
  const picture = drawn.render()
  try {
    return picture.asPng()
  } finally {
    picture.free()
    drawn.free()
  }
}

export const bank = (): Promise<ArrayBuffer> => fetched(bankAddress)

const pageFonts = async (): Promise<readonly PageFont[]> => {
  const woff2 = await Promise.all(PAGE_FONTS.map(({ address }) => fetched(address)))
  return PAGE_FONTS.map(({ family, weight, italic }, i) => ({
    family,
    weight,
    italic,
    woff2: new Uint8Array(woff2[i]!),
  }))
}

export const TOOLS: Tools = { typefaces, png, bank, pageFonts }
