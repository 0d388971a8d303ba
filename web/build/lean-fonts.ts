/**
 * The fonts without what no page asks of them: small capitals, other figures, swashes, which are a tenth of a file. Letters, kerning
 * and ligatures stay, so that what is drawn is as wide as before.
 */
import subsetFont from "subset-font"
import type { Plugin } from "vite"

/** Letters that fontsource calls "latin": what the files hold already (its unicode.json, version 5). */
const LATIN = [
  [0x20, 0xff],
  [0x131, 0x131],
  [0x152, 0x153],
  [0x2bb, 0x2bc],
  [0x2c6, 0x2c6],
  [0x2da, 0x2da],
  [0x2dc, 0x2dc],
  [0x304, 0x304],
  [0x308, 0x308],
  [0x329, 0x329],
  [0x2000, 0x206f],
  [0x20ac, 0x20ac],
  [0x2122, 0x2122],
  [0x2191, 0x2191],
  [0x2193, 0x2193],
  [0x2212, 0x2212],
  [0x2215, 0x2215],
  [0xfeff, 0xfeff],
  [0xfffd, 0xfffd],
] as const

const LETTERS = LATIN.flatMap(([from, to]) =>
  Array.from({ length: to - from + 1 }, (_, i) => String.fromCodePoint(from + i)),
).join("")

const FILE = /-latin-\d+-(normal|italic)-[^/]*\.woff2$/

/** A WOFF2 font with its Latin letters, their kerning and ligatures, and nothing else. */
export const lean = (font: Uint8Array): Promise<Buffer> =>
  subsetFont(Buffer.from(font), LETTERS, { targetFormat: "woff2" })

export function leanFonts(): Plugin {
  return {
    name: "resolutio-lean-fonts",
    apply: "build",
    async generateBundle(_, bundle) {
      for (const [file, part] of Object.entries(bundle)) {
        if (part.type !== "asset" || !FILE.test(file)) continue
        part.source = await lean(part.source as Uint8Array)
      }
    },
  }
}
