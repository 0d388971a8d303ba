// npm start: installs and builds what is missing, reads a demo piece, writes its score in three forms.
import { spawnSync } from "node:child_process"
import { existsSync, mkdirSync, readdirSync, statSync } from "node:fs"
import { basename, join } from "node:path"
import { checkNode, filesUnder, fromRoot, giveUp, inRoot, install, newest, root, runNode, step } from "./lib/tools.mjs"

/** The first piece whose name fits is shown; the first of the folder when none does. */
const FAVOURITE = /prolation/
/** Lines of the reading that are shown. */
const LINES = 30

const strange = process.argv.slice(2).find(argument => argument !== "--no-open")
if (strange) giveUp(`npm start knows no “${strange}”; it takes --no-open or nothing.`, 2)

checkNode()
install()
if (!isBuilt()) {
  step("Building (npm run build)")
  if (runNode("scripts/build.mjs") !== 0) giveUp("The build failed; its message stands above.")
}
const piece = chooseDemo()
showReading(piece)
writeScores(piece)

/** The program is newer than everything it is made from. */
function isBuilt() {
  const program = inRoot("cli", "dist", "main.mjs")
  if (!existsSync(program)) return false
  const made = newest(["core/src", "cli/src", "core/package.json", "cli/package.json", "package-lock.json"], isSource)
  return statSync(program).mtimeMs > made
}
function isSource(file) {
  return !/\.test\.ts$/.test(file)
}

function chooseDemo() {
  const folder = inRoot("demo")
  const pieces = existsSync(folder)
    ? readdirSync(folder)
        .filter(name => /\.(figurae|mei)$/.test(name))
        .sort()
    : []
  const chosen = pieces.find(name => FAVOURITE.test(name)) ?? pieces[0]
  if (!chosen) giveUp("There is no piece in demo/ to read. Put an MEI file or a shorthand file (.figurae) there.")
  return join(folder, chosen)
}

function resolutio(...args) {
  const outcome = spawnSync(process.execPath, [inRoot("cli/bin/resolutio.mjs"), ...args], {
    cwd: root,
    encoding: "utf8",
  })
  if (outcome.status === 0 || outcome.status === 1) return outcome
  return giveUp(outcome.stderr || `resolutio ${args[0]} did not end as it should.`)
}

function showReading(file) {
  step(`Reading ${fromRoot(file)}`)
  const lines = resolutio("read", fromRoot(file)).stdout.trimEnd().split("\n")
  console.log(lines.slice(0, LINES).join("\n"))
  if (lines.length > LINES) console.log(`… ${lines.length - LINES} more lines: npx resolutio read ${fromRoot(file)}`)
}

function writeScores(file) {
  step("Writing its score")
  mkdirSync(inRoot("out"), { recursive: true })
  const name = basename(file).replace(/\.[^.]+$/, "")
  const forms = { svg: "to look at", mei: "to work on", mid: "to hear" }
  for (const [ending, purpose] of Object.entries(forms)) {
    const target = join("out", `${name}.${ending}`)
    resolutio("score", fromRoot(file), "-o", target, "--force")
    console.log(`${target.padEnd(32)}${purpose}`)
  }
  console.log(
    `\nAll of them are in ${inRoot("out")}. More pieces: ${filesUnder(inRoot("demo"))
      .filter(path => path.endsWith(".figurae"))
      .map(fromRoot)
      .join(", ")}`,
  )
}
