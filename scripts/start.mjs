// npm start: installs and builds what is missing, reads a demo piece, writes its score in three forms, opens the workbench.
import { spawn, spawnSync } from "node:child_process"
import { existsSync, mkdirSync, readdirSync, statSync } from "node:fs"
import { basename, join } from "node:path"
import { serve } from "./lib/serve.mjs"
import { checkNode, filesUnder, fromRoot, giveUp, inRoot, install, newest, root, runNode, step } from "./lib/tools.mjs"

/** The first piece whose name fits is shown; the first of the folder when none does. */
const FAVOURITE = /prolation/
/** Lines of the reading that are shown. */
const LINES = 30

/** The first of these that is free is taken. */
const PORTS = [8412, 8413, 8414, 8415, 0]

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
await openWindow()

/** The program is newer than everything it is made from. */
function isBuilt() {
  const made = (name, folders) => {
    const file = inRoot(name)
    const sources = [
      "core/src",
      "core/package.json",
      "press/src",
      "press/package.json",
      "package-lock.json",
      ...folders,
    ]
    return existsSync(file) && statSync(file).mtimeMs > newest(sources, isSource)
  }
  return (
    made("cli/dist/main.cjs", ["cli/src", "cli/package.json"]) &&
    made("web/dist/index.html", ["web/src", "web/build", "web/public", "web/index.html", "web/package.json", "demo"])
  )
}
function isSource(file) {
  return !/\.test\.tsx?$/.test(file)
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

/** Serves the workbench on this machine until it is stopped, and opens it in the browser. */
async function openWindow() {
  step("The workbench")
  const served = await serve(inRoot("web", "dist"), PORTS)
  if (!served)
    giveUp("No port of this machine is free for the workbench. Its files are in web/dist: any file server will do.")
  const opened = !process.argv.includes("--no-open") && openInBrowser(served.address)
  console.log(`${opened ? "Opened" : "It is"} at ${served.address} (ends with Ctrl+C)`)
}

/** With the system's own way of opening an address; nobody waits for it. */
function openInBrowser(address) {
  const [command, ...args] = { darwin: ["open"], win32: ["cmd", "/c", "start", ""] }[process.platform] ?? ["xdg-open"]
  const child = spawn(command, [...args, address], { stdio: "ignore", detached: true })
  child.on("error", () => console.log("No browser could be opened: open the address yourself."))
  child.unref()
  return true
}
