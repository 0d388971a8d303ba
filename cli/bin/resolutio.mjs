#!/usr/bin/env node
// The program itself is built. This stub is committed, since npm links no bin whose file is missing when it installs.
import { existsSync } from "node:fs"
import { loadProgram, PROGRAM } from "./program.mjs"

if (existsSync(PROGRAM)) process.exitCode = await loadProgram().main(process.argv.slice(2))
else {
  console.error("Resolutio is not built yet. Run `npm run build` in the project's folder, then try again.")
  process.exitCode = 2
}
