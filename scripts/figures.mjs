// npm run figures: the pictures in docs/figures, as `resolutio figure KIND -o docs/figures/KIND.svg` writes them.
import { mkdirSync, writeFileSync } from "node:fs"
import { bundled } from "./lib/bundle.mjs"
import { checkNode, inRoot, install, step } from "./lib/tools.mjs"

checkNode()
install()
const { drawFigure, FIGURE_KINDS, toSvg } = await bundled(`
  export { drawFigure, FIGURE_KINDS } from "./core/src/teaching/index.ts"
  export { toSvg } from "./core/src/drawing/index.ts"`)
mkdirSync(inRoot("docs", "figures"), { recursive: true })
for (const { name } of FIGURE_KINDS) {
  const { pictures } = drawFigure({ kind: name }).value
  writeFileSync(inRoot("docs", "figures", `${name}.svg`), toSvg(pictures.find(one => one.number === "").scene))
}
step(`Written: ${FIGURE_KINDS.length} figures in docs/figures`)
