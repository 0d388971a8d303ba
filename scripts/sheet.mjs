// npm run sheet: every sign and ligature in one drawing (docs/signs.svg, docs/signs.png), a page (docs/page.svg), and
// a part of a time view (docs/time.svg).
import { readFileSync, writeFileSync } from "node:fs"
import { checkNode, inRoot, install, step } from "./lib/tools.mjs"
import { bundled } from "./lib/bundle.mjs"

checkNode()
install()
const { drawPage, manualTime, parseShorthand, signSheet, toSvg } = await bundled(`
  export { signSheet } from "./core/src/drawing/sheet/sheet.ts"
  export { manualTime } from "./core/src/drawing/testing/manual-time.ts"
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
const piece = name => parseShorthand(readFileSync(inRoot("demo", `${name}.figurae`), "utf8")).value
writeFileSync(inRoot("docs", "page.svg"), toSvg(drawPage(piece("1-ordo-tenor"), { width: 1000 })))
writeFileSync(inRoot("docs", "time.svg"), toSvg(manualTime(piece("5-changing-signs"))))
step(
  `Written: docs/signs.svg, docs/page.svg, docs/time.svg, docs/signs.png (${readFileSync(inRoot("docs", "signs.png")).length >> 10} kB)`,
)
