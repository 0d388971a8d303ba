// npm run pictures: renders the kept pictures anew and compares them with those in core/src/drawing/kept. Where one differs by
// more than the tolerance, old, new and their difference stand side by side in out/pictures, and the kept one is replaced
// (not with --check). Look at them before you commit.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs"
import { checkNode, inRoot, install, step } from "./lib/tools.mjs"
import { bundled } from "./lib/bundle.mjs"

checkNode()
install()
const check = process.argv.includes("--check")
const { PICTURES, rendered, packed, differenceOf, sideBySide, TOLERANCE_TOLD } = await bundled(`
  export { PICTURES } from "./core/src/drawing/testing/pictures.ts"
  export { rendered, packed, differenceOf, sideBySide, TOLERANCE_TOLD } from "./core/src/drawing/testing/raster.ts"`)

const source = path => readFileSync(inRoot(path), "utf8")
const kept = name => inRoot("core/src/drawing/kept", `${name}.png`)
mkdirSync(inRoot("out", "pictures"), { recursive: true })
mkdirSync(inRoot("core/src/drawing/kept"), { recursive: true })
step(`Comparing ${PICTURES.length} pictures (${TOLERANCE_TOLD})`)
let changed = 0
for (const picture of PICTURES) {
  const now = rendered(picture, source)
  const file = kept(picture.name)
  if (!existsSync(file)) {
    if (!check) writeFileSync(file, packed(now))
    console.log(`  ${picture.name}: ${check ? "is not kept" : "new"}`)
    changed++
    continue
  }
  const before = readFileSync(file)
  const { same, told, picture: difference } = differenceOf(before, now)
  console.log(`  ${picture.name}: ${told}`)
  if (same) continue
  changed++
  const shown = inRoot("out", "pictures", `${picture.name}.png`)
  writeFileSync(shown, sideBySide(before, now, difference))
  console.log(`    ${shown}: old, new, difference`)
  if (!check) writeFileSync(file, packed(now))
}
const what = changed === 1 ? "One picture differs" : `${changed} pictures differ`
step(
  changed === 0
    ? "All are as they were."
    : check
      ? `${what}.`
      : `${what} and was written anew: look at it, then commit it.`,
)
if (check && changed > 0) process.exit(1)
