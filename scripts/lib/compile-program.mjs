// Keeps the compiled code of the program as it stands after work on the demo pieces: what a reading and a score need is in it.
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { compiledOf, loaded, loadProgram } from "../../cli/bin/program.mjs"
import { inRoot } from "./tools.mjs"

const silent = { out() {}, err() {}, colour: false }
const { run } = loadProgram()
const folder = mkdtempSync(join(tmpdir(), "resolutio-"))
for (const name of readdirSync(inRoot("demo"))) {
  if (!/\.(figurae|mei)$/.test(name)) continue
  const demo = inRoot("demo", name)
  for (const format of ["text", "json"]) await run(["read", demo, "--format", format], silent)
  await run(["explain", demo, "1 1"], silent)
  await run(["score", demo, "-o", join(folder, "score.mei"), "--force"], silent)
}
rmSync(folder, { recursive: true })
for (const [file, { script }] of loaded) writeFileSync(compiledOf(file), script.createCachedData())
