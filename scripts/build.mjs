// npm run build: core/dist (JavaScript and types), the types of the rest checked, the program in cli/dist, the workbench in web/dist.
import { existsSync, rmSync, statSync } from "node:fs"
import { resolve } from "node:path"
import { checkNode, filesUnder, giveUp, inRoot, install, newest, runNode } from "./lib/tools.mjs"

checkNode()
install()
const types = runNode("node_modules/typescript/bin/tsc", "-b")

const { build } = await import("esbuild")
const made = await build({
  entryPoints: { main: inRoot("cli", "src", "main.ts") },
  outdir: inRoot("cli", "dist"),
  outExtension: { ".js": ".mjs" },
  chunkNames: "parts/[name]-[hash]",
  bundle: true,
  splitting: true,
  minify: true,
  sourcemap: true,
  sourcesContent: false,
  platform: "node",
  target: "node20",
  format: "esm",
  // What makes pictures is large and seldom needed: it stays in its packages and is loaded when asked for.
  external: ["verovio", "verovio/*", "@resvg/resvg-js", "pdfkit", "svg-to-pdfkit", "fontkit", "spessasynth_core"],
  // commander is CommonJS and asks for Node's modules by require.
  banner: { js: "import{createRequire as __r}from'node:module';const require=__r(import.meta.url);" },
  logLevel: "warning",
  metafile: true,
}).catch(() => giveUp("esbuild could not bundle the command line; its message stands above."))

// Parts of earlier builds have other names; they go only now, so that the program is there all the time.
const parts = new Set(Object.keys(made.metafile.outputs).map(file => resolve(file)))
for (const file of filesUnder(inRoot("cli", "dist", "parts"))) if (!parts.has(file)) rmSync(file)

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
