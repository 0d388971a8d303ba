// npm run build: core/dist (JavaScript and types), the types of the command line checked, the program in cli/dist.
import { rmSync } from "node:fs"
import { checkNode, giveUp, inRoot, install, runNode } from "./lib/tools.mjs"

checkNode()
install()
const types = runNode("node_modules/typescript/bin/tsc", "-b")

const { build } = await import("esbuild")
rmSync(inRoot("cli", "dist", "main.mjs"), { force: true })
rmSync(inRoot("cli", "dist", "parts"), { force: true, recursive: true })
await build({
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
  // The engraver is large and only `score` needs it: it stays a package and is loaded when asked for.
  external: ["verovio", "verovio/*"],
  // commander is CommonJS and asks for Node's modules by require.
  banner: { js: "import{createRequire as __r}from'node:module';const require=__r(import.meta.url);" },
  logLevel: "warning",
}).catch(() => giveUp("esbuild could not bundle the command line; its message stands above."))

if (types !== 0) giveUp("The types do not fit; tsc's messages stand above.")
