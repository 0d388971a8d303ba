// The built program, with what the machine has compiled of it before: to compile it anew would take longer than to read a motet.
import { existsSync, readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { fileURLToPath } from "node:url"
import { setFlagsFromString } from "node:v8"
import { Script } from "node:vm"

// It has to be said before anything is compiled, since compiled code is kept for the settings it was made with; and only to an
// engine that is known to understand it, since another would complain.
if (process.version.startsWith("v20.")) {
  // The engine would start to optimize what ran a few thousand times, at the cost of the second core and of what it throws away
  // again when the next voice is otherwise. Later it pays: with a quarter of this a motet takes as long, with three times as much
  // the search over its voices is done before it has become quick (some 5 % longer).
  setFlagsFromString("--interrupt-budget=300000")
  // Room for what is young is made at once, and tidied by the thread that waits for it: on a busy machine the helpers come late.
  setFlagsFromString("--semi-space-growth-factor=16")
  setFlagsFromString("--no-parallel-scavenge")
  // When all is printed, nothing need be tidied any more.
  setFlagsFromString("--no-incremental-marking-task")
}

const built = name => fileURLToPath(new URL(`../dist/${name}.cjs`, import.meta.url))

export const PROGRAM = built("main")
/** The files in which the commands stand: the one that is called most need not wait for all that the others know. */
export const FILES = { read: built("read"), others: built("others") }
/** Compiled code is good for one Node on one kind of machine. */
export const compiledOf = file => file.replace(/cjs$/, `${process.version}-${process.arch}.compiled`)

/** The scripts loaded so far, by file: of each the compiled code can be kept. */
export const loaded = new Map()

/** What the program exports. */
export const loadProgram = () => load(PROGRAM)

function load(file) {
  const known = loaded.get(file)
  if (known) return known.exports
  // the bundle is ASCII throughout
  const source = `(function (exports, require, module, __filename, __impt) {${readFileSync(file, "latin1")}\n})`
  const compiled = compiledOf(file)
  const script = new Script(source, {
    filename: file,
    cachedData: existsSync(compiled) ? readFileSync(compiled) : undefined,
  })
  const module = { exports: {} }
  script.runInThisContext()(module.exports, createRequire(file), module, file, bring)
  loaded.set(file, { script, exports: module.exports })
  return module.exports
}

/** What a built file asks for while it runs: a command of ours, or a package. */
function bring(name) {
  const command = /^command:(.+)$/.exec(name)?.[1]
  return command === undefined ? import(name) : load(FILES[command] ?? FILES.others).commands[command]()
}
