// Keeps the compiled code of the program as it stands after reading the demo pieces: what a reading needs is in it.
import { readdirSync, writeFileSync } from "node:fs"
import { COMPILED, loadProgram } from "../../cli/bin/program.mjs"
import { inRoot } from "./tools.mjs"

const silent = { out() {}, err() {}, colour: false }
const { program, script } = loadProgram()
for (const name of readdirSync(inRoot("demo"))) {
  if (!/\.(figurae|mei)$/.test(name)) continue
  for (const format of ["text", "json"]) await program.run(["read", inRoot("demo", name), "--format", format], silent)
}
writeFileSync(COMPILED, script.createCachedData())
