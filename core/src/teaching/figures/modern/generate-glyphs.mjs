// node core/src/teaching/figures/modern/generate-glyphs.mjs: outlines of modern signs from a music font (OFL 1.1), in staff spaces.
import { writeFileSync } from "node:fs"
import { createRequire } from "node:module"
import { fileURLToPath } from "node:url"

const require = createRequire(import.meta.url)
const font = require("fontkit").openSync(require.resolve("@vexflow-fonts/bravura/bravura.otf"))
// Names and code points as SMuFL 1.4 registers them.
const GLYPHS = {
  gClef: 0xe050,
  gClef8vb: 0xe052,
  fClef: 0xe062,
  ...Object.fromEntries(Array.from({ length: 10 }, (_, i) => [`timeSig${i}`, 0xe080 + i])),
  noteheadDoubleWhole: 0xe0a0,
  noteheadWhole: 0xe0a2,
  noteheadHalf: 0xe0a3,
  noteheadBlack: 0xe0a4,
  augmentationDot: 0xe1e7,
  flag8thUp: 0xe240,
  flag8thDown: 0xe241,
  flag16thUp: 0xe242,
  flag16thDown: 0xe243,
  flag32ndUp: 0xe244,
  flag32ndDown: 0xe245,
  accidentalFlat: 0xe260,
  accidentalNatural: 0xe261,
  accidentalSharp: 0xe262,
  accidentalDoubleSharp: 0xe263,
  accidentalDoubleFlat: 0xe264,
  accidentalParensLeft: 0xe26a,
  accidentalParensRight: 0xe26b,
  fermataAbove: 0xe4c0,
  restDoubleWhole: 0xe4e2,
  restWhole: 0xe4e3,
  restHalf: 0xe4e4,
  restQuarter: 0xe4e5,
  rest8th: 0xe4e6,
  rest16th: 0xe4e7,
  rest32nd: 0xe4e8,
}
const LETTERS = { moveTo: "M", lineTo: "L", quadraticCurveTo: "Q", bezierCurveTo: "C", closePath: "Z" }
/** A staff space is a quarter of the em (SMuFL 1.4, glyph metrics). */
const space = font.unitsPerEm / 4
const places = value => String(Math.round(value * 1000) / 1000 + 0)

const rows = Object.entries(GLYPHS).map(([name, point]) => {
  const glyph = font.glyphForCodePoint(point)
  const outline = glyph.path.commands
    .map(({ command, args }) =>
      [LETTERS[command], ...args.map((value, at) => places((at % 2 === 0 ? value : -value) / space))].join(" "),
    )
    .join(" ")
  return `  ${name}: [${places(glyph.advanceWidth / space)}, "${outline}"],`
})
const text = `/**
 * Made by generate-glyphs.mjs; not to be changed by hand. Outlines of modern signs under the SIL Open Font License 1.1
 * (LICENSE-outlines.txt): by their SMuFL name the advance width and the outline, in staff spaces, y growing downwards.
 */
export const GLYPHS = {
${rows.join("\n")}
} as const
`
writeFileSync(fileURLToPath(new URL("glyphs.generated.ts", import.meta.url)), text)
