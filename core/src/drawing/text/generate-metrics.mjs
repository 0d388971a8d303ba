// node core/src/drawing/text/generate-metrics.mjs: which letters the two typefaces have and how wide they are, from their files.
import { writeFileSync } from "node:fs"
import { createRequire } from "node:module"
import { fileURLToPath } from "node:url"

const require = createRequire(import.meta.url)
const fontkit = require("fontkit")
const at = (family, face, file) => require.resolve(`@expo-google-fonts/${family}/${face}/${file}_${face}.ttf`)
const FACES = {
  "words-400": at("alegreya", "400Regular", "Alegreya"),
  "words-400-italic": at("alegreya", "400Regular_Italic", "Alegreya"),
  "words-700": at("alegreya", "700Bold", "Alegreya"),
  "words-700-italic": at("alegreya", "700Bold_Italic", "Alegreya"),
  "figures-400": at("source-sans-3", "400Regular", "SourceSans3"),
  "figures-400-italic": at("source-sans-3", "400Regular_Italic", "SourceSans3"),
  "figures-600": at("source-sans-3", "600SemiBold", "SourceSans3"),
  "figures-700": at("source-sans-3", "700Bold", "SourceSans3"),
}
// Latin with its accents, then the dashes, quotation marks and signs that captions use.
const RANGES = [
  [0x20, 0x7e],
  [0xa0, 0x17f],
  [0x2010, 0x2026],
  [0x2190, 0x2193],
]

/** Stretches of code points that every face of a family has, as "20-7e a0 …" in hexadecimal; no private ones. */
function covered(family) {
  const sets = Object.entries(FACES)
    .filter(([name]) => name.startsWith(family))
    .map(([, file]) => new Set(fontkit.openSync(file).characterSet))
  const points = [...sets[0]].filter(point => point >= 0x20 && !isPrivate(point) && sets.every(set => set.has(point)))
  const stretches = []
  for (const point of points.sort((one, other) => one - other)) {
    const last = stretches.at(-1)
    if (last && last[1] === point - 1) last[1] = point
    else stretches.push([point, point])
  }
  return stretches.map(([from, to]) => (from === to ? hex(from) : `${hex(from)}-${hex(to)}`)).join(" ")
}
const isPrivate = point => (point >= 0xe000 && point <= 0xf8ff) || point >= 0xf0000
const hex = point => point.toString(16)

const widths = Object.entries(FACES).map(([name, file]) => {
  const font = fontkit.openSync(file)
  const advances = RANGES.flatMap(([from, to]) =>
    Array.from({ length: to - from + 1 }, (_, i) =>
      font.hasGlyphForCodePoint(from + i)
        ? Math.round((font.glyphForCodePoint(from + i).advanceWidth / font.unitsPerEm) * 1000)
        : 0,
    ),
  )
  return `  "${name}":\n    "${advances.join(" ")}",`
})
const text = `/** Made by generate-metrics.mjs; not to be changed by hand. Advance widths in thousandths of an em; 0: no such letter. */

/** First and last code point of each stretch, in the order of the widths. */
export const RANGES: readonly (readonly [number, number])[] = ${JSON.stringify(RANGES)}
export const ADVANCES: Readonly<Record<string, string>> = {
${widths.join("\n")}
}
/** Code points that every face of a family has, in hexadecimal. */
export const COVERED: Readonly<Record<"words" | "figures", string>> = {
  words: "${covered("words")}",
  figures: "${covered("figures")}",
}
`
writeFileSync(fileURLToPath(new URL("metrics.generated.ts", import.meta.url)), text)
