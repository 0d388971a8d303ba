// npm run build: core/dist (JavaScript and types), the types of the rest checked, the program in cli/dist, the workbench in web/dist.
import { existsSync, rmSync, statSync } from "node:fs"
import { dirname } from "node:path"
import { PROGRAM } from "../cli/bin/program.mjs"
import { bundleProgram } from "./lib/bundle-program.mjs"
import { checkNode, filesUnder, giveUp, inRoot, install, newest, runNode } from "./lib/tools.mjs"

checkNode()
install()
const types = runNode("node_modules/typescript/bin/tsc", "-b")

// Compiled code of another build must not outlive it: it is known by the length of the program alone.
for (const file of filesUnder(dirname(PROGRAM))) if (file.endsWith(".compiled")) rmSync(file)
await bundleProgram()
if (runNode("scripts/lib/compile-program.mjs") !== 0)
  giveUp("The program that was built does not read the demo pieces.")

if (!isWindowBuilt() && runNode("web/build/build.mjs") !== 0)
  giveUp("The workbench could not be built; Vite's message stands above.")

if (types !== 0) giveUp("The types do not fit; tsc's messages stand above.")

/** The workbench is newer than everything it is made from. */
function isWindowBuilt() {
  const page = inRoot("web", "dist", "index.html")
  if (!existsSync(page)) return false
  const sources = [
    "core/src",
    "press/src",
    "web/src",
    "web/build",
    "web/public",
    "web/index.html",
    "web/vite.config.ts",
  ]
  const made = newest(
    [...sources, "web/package.json", "demo", "package-lock.json"],
    file => !/\.test\.tsx?$/.test(file),
  )
  return statSync(page).mtimeMs > made
}
