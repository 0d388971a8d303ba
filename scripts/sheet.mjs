// npm run sheet: every sign and ligature in one drawing, docs/signs.svg and docs/signs.png.
import { readFileSync, writeFileSync } from "node:fs"
import { checkNode, inRoot, install, step } from "./lib/tools.mjs"
import { bundled } from "./lib/bundle.mjs"

checkNode()
install()
const { signSheet, toSvg } = await bundled(`
  export { signSheet } from "./core/src/drawing/sheet/sheet.ts"
  export { toSvg } from "./core/src/drawing/index.ts"`)
const { Resvg } = await import("@resvg/resvg-js")

const svg = toSvg(signSheet())
const fonts = ["alegreya/400Regular/Alegreya_400Regular", "alegreya/700Bold/Alegreya_700Bold"]
const figures = ["400Regular", "600SemiBold"].map(face => `source-sans-3/${face}/SourceSans3_${face}`)
const fontFiles = [...fonts, ...figures].map(name => inRoot("node_modules/@expo-google-fonts", `${name}.ttf`))
const png = new Resvg(svg, { font: { loadSystemFonts: false, fontFiles } }).render().asPng()
writeFileSync(inRoot("docs", "signs.svg"), svg)
writeFileSync(inRoot("docs", "signs.png"), png)
step(`Written: docs/signs.svg, docs/signs.png (${readFileSync(inRoot("docs", "signs.png")).length >> 10} kB)`)
