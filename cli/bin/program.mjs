// The built program, with what the machine has compiled of it before: to compile it anew would take longer than to read a motet.
import { existsSync, readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { fileURLToPath } from "node:url"
import { setFlagsFromString } from "node:v8"
import { Script } from "node:vm"

// The engine would start to optimize what ran a few thousand times, at the cost of the second core and of what it throws away
// again when the next voice is otherwise: on a motet it is done before that pays. Long books only wait a moment longer for it.
// It has to be said before the program is compiled, since compiled code is kept for the settings it was made with; and only to
// an engine that is known to understand it, since another would complain.
if (process.version.startsWith("v20.")) setFlagsFromString("--interrupt-budget=300000")

export const PROGRAM = fileURLToPath(new URL("../dist/main.cjs", import.meta.url))
/** Compiled code is good for one Node on one kind of machine. */
export const COMPILED = PROGRAM.replace(/cjs$/, `${process.version}-${process.arch}.compiled`)

/** What the program exports, and the script that it is, of which compiled code can be kept. */
export function loadProgram() {
  // the bundle is ASCII throughout
  const source = `(function (exports, require, module, __filename, __impt) {${readFileSync(PROGRAM, "latin1")}\n})`
  const cachedData = existsSync(COMPILED) ? readFileSync(COMPILED) : undefined
  const script = new Script(source, { filename: PROGRAM, cachedData })
  const module = { exports: {} }
  const bring = name => import(name)
  script.runInThisContext()(module.exports, createRequire(PROGRAM), module, PROGRAM, bring)
  return { program: module.exports, script }
}
