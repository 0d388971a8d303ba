// node scripts/docs.mjs: writes what in docs/ is made from the code or by running it: the pages of options
// and weights, and the answers and pictures of pages with commands (the guide, the score, the edition). Run it after a build when rules, options or what the program prints have changed.
import { spawnSync } from "node:child_process"
import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { pathToFileURL } from "node:url"
import { filled, picturesIn } from "./lib/guide.mjs"
import { optionsPage } from "./lib/options-page.mjs"
import { inRoot } from "./lib/tools.mjs"

const { PRACTICES, RULE_IDS, optionValueTold } = await import("../core/dist/index.js")
writeFileSync(inRoot("docs", "options.md"), optionsPage(PRACTICES, RULE_IDS, optionValueTold))
writeFileSync(inRoot("docs", "weights.md"), (await bundled("scripts/lib/weights-page.ts")).weightsPage())

const pages = readdirSync(inRoot("docs")).filter(name => name.endsWith(".md") && hasAnswers(inRoot("docs", name)))
for (const name of pages) await answerAnew(inRoot("docs", name))
console.log(`Written: ${["options.md", "weights.md", ...pages].map(name => `docs/${name}`).join(", ")}`)

function hasAnswers(file) {
  return readFileSync(file, "utf8").includes("\n```console\n$ ")
}

/** Runs the commands of a page in a folder of their own, puts what they print under them, and keeps the pictures that it shows. */
async function answerAnew(file) {
  const folder = mkdtempSync(join(tmpdir(), "resolutio-guide-"))
  const page = await filled(
    readFileSync(file, "utf8"),
    (name, text) => writeFileSync(join(folder, name), text),
    args => {
      const { stdout, stderr } = spawnSync(process.execPath, [inRoot("cli/bin/resolutio.mjs"), ...args], {
        cwd: folder,
        encoding: "utf8",
      })
      return stdout + stderr
    },
  )
  for (const { kept, written } of picturesIn(page)) copyFileSync(join(folder, written), inRoot("docs", kept))
  rmSync(folder, { recursive: true })
  writeFileSync(file, page)
}

/** A module of ours from its TypeScript source: it asks parts of the core that are not public. */
async function bundled(file) {
  const { build } = await import("esbuild")
  const outfile = inRoot("out", "docs.mjs")
  const entryPoints = [inRoot(file)]
  await build({ entryPoints, bundle: true, platform: "node", format: "esm", outfile, logLevel: "warning" })
  return import(pathToFileURL(outfile).href)
}
