// The command line as one file, cli/dist/main.cjs.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs"
import { dirname } from "node:path"
import { PROGRAM } from "../../cli/bin/program.mjs"
import { giveUp, inRoot } from "./tools.mjs"

/** As long as the word it stands for, so that the source map holds. */
const IMPORT = "__impt"

/** The XML reader freezes two thousand names of letters, which pages of HTML may use and ours do not: a fiftieth of a second. */
const unfrozen = {
  name: "unfrozen",
  setup({ onLoad }) {
    onLoad({ filter: /@xmldom[\\/]xmldom[\\/]lib[\\/]entities\.js$/ }, ({ path }) => ({
      contents: readFileSync(path, "utf8").replaceAll("freeze({", "({"),
      loader: "js",
    }))
  },
}

export async function bundleProgram() {
  const { build } = await import("esbuild")
  const { outputFiles, metafile } = await build({
    entryPoints: [inRoot("cli", "src", "main.ts")],
    outfile: PROGRAM,
    write: false,
    metafile: true,
    bundle: true,
    minify: true,
    charset: "ascii",
    sourcemap: true,
    sourcesContent: false,
    platform: "node",
    target: "node20",
    format: "cjs",
    define: { "import.meta.url": "__programUrl" },
    banner: { js: "const __programUrl=require('node:url').pathToFileURL(__filename).href;" },
    // What makes pictures is large and seldom needed: it stays in its packages and is loaded when asked for.
    external: ["verovio", "verovio/*", "@resvg/resvg-js", "pdfkit", "svg-to-pdfkit", "fontkit", "spessasynth_core"],
    logLevel: "warning",
    plugins: [unfrozen],
  }).catch(() => giveUp("esbuild could not bundle the command line; its message stands above."))
  mkdirSync(dirname(PROGRAM), { recursive: true })
  for (const { path, text } of outputFiles) writeFileSync(path, path === PROGRAM ? withImports(text, metafile) : text)
}

/** A script whose compiled code was kept cannot import by itself: whoever loads it passes in what does. */
function withImports(text, metafile) {
  const wanted = Object.values(metafile.outputs)
    .flatMap(({ imports }) => imports)
    .filter(({ kind }) => kind === "dynamic-import")
  const found = new Set()
  const changed = text.replace(/\bimport\((["'])([^"']+)\1\)/g, (_, quote, name) => {
    found.add(name)
    return `${IMPORT}(${quote}${name}${quote})`
  })
  const missing = wanted.filter(({ path }) => !found.has(path))
  if (missing.length > 0) giveUp(`The bundle does not show where it imports ${missing.map(({ path }) => path).join()}.`)
  return changed
}
