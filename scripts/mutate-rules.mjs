// node scripts/mutate-rules.mjs: takes each single rule out of each practice and runs all cases. A rule whose loss no
// case notices is either untested or no rule; then the status is 1.
import { mkdirSync, readdirSync, readFileSync } from "node:fs"
import { pathToFileURL } from "node:url"
import { checkNode, inRoot, install } from "./lib/tools.mjs"

/** Ids that stand for no rule: nothing acted, the file or an editor said so. */
const NO_RULE = new Set(["as-written", "given", "decision"])

checkNode()
install()
const { PRACTICES, judge, parseCases, readPage, without } = await bundled()
const folder = inRoot("cases")
const cases = readdirSync(folder)
  .filter(name => name.endsWith(".txt"))
  .flatMap(name => parseCases(readFileSync(inRoot("cases", name), "utf8"), name))

const idle = []
for (const practice of PRACTICES) {
  const own = cases.filter(one => one.practices.includes(practice.name))
  const holding = own.filter(one => failures(one, practice) === 0)
  console.log(`\n${practice.name}: ${holding.length} of ${own.length} cases hold with all rules`)
  for (const { id } of practice.rules) {
    const lost = holding.filter(one => failures(one, without(practice, id)) > 0)
    console.log(`  without ${id.padEnd(32)} ${String(lost.length).padStart(4)} fail`)
    if (lost.length === 0 && !NO_RULE.has(id)) idle.push(`${practice.name}: ${id}`)
  }
}
if (idle.length > 0) {
  console.error(`\nNo case needs these rules: ${idle.join(", ")}`)
  process.exitCode = 1
} else console.log("\nEvery rule is needed by at least one case.")

/** In how many ways a case fails when it is read by this practice; a reading that breaks fails too. */
function failures(one, practice) {
  try {
    return judge(one, practice.name, (page, options) => readPage(page, { ...options, practices: [practice] })).length
  } catch {
    return 1
  }
}

/** The cases' loader and the core, from their TypeScript sources. */
async function bundled() {
  const { build } = await import("esbuild")
  mkdirSync(inRoot("out"), { recursive: true })
  const outfile = inRoot("out", "mutate.mjs")
  await build({
    stdin: {
      contents: `export * from "./cases/judge.js"; export * from "./cases/load.js"; export * from "@resolutio/core"`,
      resolveDir: inRoot("."),
      loader: "ts",
    },
    alias: { "@resolutio/core": inRoot("core", "src", "index.ts") },
    bundle: true,
    platform: "node",
    format: "esm",
    outfile,
    logLevel: "warning",
  })
  return import(pathToFileURL(outfile).href)
}
