// The command line as three files in cli/dist: what is offered (main.cjs), the command `read`, and all other commands.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs"
import { basename, dirname } from "node:path"
import { FILES, PROGRAM } from "../../cli/bin/program.mjs"
import { giveUp, inRoot } from "./tools.mjs"

/** As long as the word it stands for, so that the source map holds. */
const IMPORT = "__impt"

/** Text of packages that costs time at each start for what we do not use. */
const lighter = {
  name: "lighter",
  setup({ onLoad }) {
    const changed = (filter, change) =>
      onLoad({ filter }, ({ path }) => ({ contents: change(readFileSync(path, "utf8")), loader: "js" }))
    // The XML reader freezes two thousand names of letters, which pages of HTML may use and ours do not: a fiftieth of a second.
    changed(/@xmldom[\\/]xmldom[\\/]lib[\\/]entities\.js$/, text => text.replaceAll("freeze({", "({"))
    // Commands that are programs of their own, of which we have none, would need all that Node knows of nets.
    changed(/commander[\\/]lib[\\/]command\.js$/, text =>
      text
        .replace(/^const childProcess = require.*$/m, "")
        .replaceAll(/\bchildProcess\b/g, "require('node:child_process')"),
    )
  },
}

export async function bundleProgram() {
  mkdirSync(dirname(PROGRAM), { recursive: true })
  const commands = []
  const apart = {
    name: "apart",
    setup({ onResolve }) {
      onResolve({ filter: /^\.\// }, ({ kind, path, importer }) => {
        if (kind !== "dynamic-import" || !importer.startsWith(inRoot("cli"))) return undefined
        commands.push(basename(path, ".js"))
        return { path: `command:${basename(path, ".js")}`, external: true }
      })
    },
  }
  await bundle(PROGRAM, { entryPoints: [inRoot("cli", "src", "main.ts")], plugins: [lighter, apart] })
  const fileOf = command => FILES[command] ?? FILES.others
  for (const file of Object.values(FILES)) {
    const lines = commands.filter(one => fileOf(one) === file).map(one => `${one}: () => import("./${one}.js"),`)
    const contents = `export const commands = {${lines.join("")}}`
    await bundle(file, { stdin: { contents, resolveDir: inRoot("cli", "src") }, plugins: [lighter] })
  }
}

async function bundle(outfile, what) {
  const { build } = await import("esbuild")
  const { outputFiles, metafile } = await build({
    ...what,
    outfile,
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
  }).catch(() => giveUp("esbuild could not bundle the command line; its message stands above."))
  for (const { path, text } of outputFiles) writeFileSync(path, path === outfile ? withImports(text, metafile) : text)
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
