#!/usr/bin/env node
// The program itself is built. This stub is committed, since npm links no bin whose file is missing when it installs.
import { existsSync } from "node:fs"

const program = new URL("../dist/main.mjs", import.meta.url)
if (existsSync(program)) {
  await import(program.href)
} else {
  console.error("Resolutio is not built yet. Run `npm run build` in the project's folder, then try again.")
  process.exitCode = 2
}
