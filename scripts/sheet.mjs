// npm run sheet: every sign and ligature in one drawing (docs/signs.svg, docs/signs.png), and a page (docs/page.svg).
import { readFileSync, writeFileSync } from "node:fs"
import { checkNode, inRoot, install, step } from "./lib/tools.mjs"
import { bundled } from "./lib/bundle.mjs"

checkNode()
install()
const { drawPage, parseShorthand, signSheet, toSvg } = await bundled(`
  export { signSheet } from "./core/src/drawing/sheet/sheet.ts"
  export { drawPage, toSvg } from "./core/src/drawing/index.ts"
  export { parseShorthand } from "./core/src/page/shorthand/index.ts"`)
const { Resvg } = await import("@resvg/resvg-js")

const svg = toSvg(signSheet())
const fonts = ["alegreya/400Regular/Alegreya_400Regular", "alegreya/700Bold/Alegreya_700Bold"]
const figures = ["400Regular", "600SemiBold"].map(face => `source-sans-3/${face}/SourceSans3_${face}`)
const fontFiles = [...fonts, ...figures].map(name => inRoot("node_modules/@expo-google-fonts", `${name}.ttf`))
const png = new Resvg(svg, { font: { loadSystemFonts: false, fontFiles } }).render().asPng()
writeFileSync(inRoot("docs", "signs.svg"), svg)
writeFileSync(inRoot("docs", "signs.png"), png)
const piece = parseShorthand(readFileSync(inRoot("demo", "1-ordo-tenor.figurae"), "utf8"))
writeFileSync(inRoot("docs", "page.svg"), toSvg(drawPage(piece.value, { width: 1000 })))
step(
  `Written: docs/signs.svg, docs/page.svg, docs/signs.png (${readFileSync(inRoot("docs", "signs.png")).length >> 10} kB)`,
)
