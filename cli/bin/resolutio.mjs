#!/usr/bin/env node
// The program itself is built. This stub is committed, since npm links no bin whose file is missing when it installs.
import { existsSync } from "node:fs"
import module from "node:module"

const program = new URL("../dist/main.mjs", import.meta.url)
if (existsSync(program)) {
  // Newer Nodes keep what they have compiled, and start faster the next time.
  module.enableCompileCache?.()
  await import(program.href)
} else {
  console.error("Resolutio is not built yet. Run `npm run build` in the project's folder, then try again.")
  process.exitCode = 2
}
