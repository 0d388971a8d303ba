/** Scenes as PNG, and how far two PNGs are apart. */
import { createRequire } from "node:module"
import { dirname, join } from "node:path"
import { Resvg } from "@resvg/resvg-js"
import pixelmatch from "pixelmatch"
import { PNG } from "pngjs"
import { toSvg } from "../scene/svg.js"
import { themeNamed } from "../scene/themes.js"
import type { KeptPicture, SourceOf } from "./pictures.js"

/**
 * What is compared is drawn with our own typefaces only and by the same renderer, so that on one machine two pictures of one scene
 * are the same to the last point; processors that reckon in other roundings may smooth an edge otherwise. A point counts as
 * another when its colour is further off than a sixth of what parts black from white (as pixelmatch measures it), edges that are
 * only smoothed otherwise left out. Ten may: a dot of addition covers a dozen in the smallest of these pictures.
 */
const THRESHOLD = 1 / 6
const OTHER_POINTS = 10
export const TOLERANCE_TOLD = `${OTHER_POINTS} points of a picture may be other`

const FACES = [
  ["alegreya", "400Regular", "Alegreya"],
  ["alegreya", "700Bold", "Alegreya"],
  ["alegreya", "400Regular_Italic", "Alegreya"],
  ["source-sans-3", "400Regular", "SourceSans3"],
  ["source-sans-3", "600SemiBold", "SourceSans3"],
] as const

function fontFiles(): string[] {
  const require = createRequire(join(process.cwd(), "package.json"))
  return FACES.map(([family, face, name]) => {
    const folder = dirname(require.resolve(`@expo-google-fonts/${family}/package.json`))
    return join(folder, face, `${name}_${face}.ttf`)
  })
}

export function rendered({ scene, theme, width }: KeptPicture, source: SourceOf): PNG {
  const svg = toSvg(scene(source), { theme: themeNamed(theme)! })
  const font = { loadSystemFonts: false, fontFiles: fontFiles(), defaultFontFamily: "Alegreya" }
  const image = new Resvg(svg, { font, fitTo: { mode: "width", value: width } }).render()
  const png = new PNG({ width: image.width, height: image.height })
  png.data = Buffer.from(image.pixels)
  return png
}

/** Without transparency, which no theme that is kept has: smaller. */
export const packed = (png: PNG): Uint8Array => PNG.sync.write(png, { colorType: 2, deflateLevel: 9 })

export interface Difference {
  readonly same: boolean
  readonly told: string
  /** Undefined where the sizes differ. */
  readonly picture?: PNG
}

/** `before` is a file, `now` what was rendered. */
export function differenceOf(before: Uint8Array, now: PNG): Difference {
  const [a, b] = [PNG.sync.read(Buffer.from(before)), now]
  if (a.width !== b.width || a.height !== b.height)
    return { same: false, told: `${a.width} × ${a.height} px have become ${b.width} × ${b.height}` }
  const picture = new PNG({ width: a.width, height: a.height })
  const others = pixelmatch(a.data, b.data, picture.data, a.width, a.height, { threshold: THRESHOLD })
  return { same: others <= OTHER_POINTS, told: others === 0 ? "the same" : `${others} points other`, picture }
}

export function sideBySide(before: Uint8Array, now: PNG, difference: PNG | undefined): Uint8Array {
  const [a, b] = [PNG.sync.read(Buffer.from(before)), now]
  const all = difference ? [a, b, difference] : [a, b]
  const width = all.reduce((sum, one) => sum + one.width, 0)
  const height = Math.max(...all.map(one => one.height))
  const whole = new PNG({ width, height, fill: true })
  let x = 0
  for (const one of all) {
    PNG.bitblt(one, whole, 0, 0, one.width, one.height, x, 0)
    x += one.width
  }
  return PNG.sync.write(whole)
}
