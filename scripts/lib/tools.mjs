// What the scripts share. Only Node's own modules: these run before anything is installed.
import { spawnSync } from "node:child_process"
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs"
import { join, relative } from "node:path"
import { fileURLToPath } from "node:url"

export const root = fileURLToPath(new URL("../../", import.meta.url))
export const inRoot = (...parts) => join(root, ...parts)
const windows = process.platform === "win32"

/** Prints one step of the work, so that waiting has a reason. */
export const step = text => console.log(`\n▸ ${text}`)

/** Ends the script with a plain sentence. */
export function giveUp(text, status = 1) {
  console.error(`\n✗ ${text}`)
  process.exit(status)
}

/** Runs a program in the project's folder, its output shown; gives its exit status (1 when it could not be started). */
export function run(command, args, options = {}) {
  const outcome = spawnSync(command, args, { cwd: root, stdio: "inherit", ...options })
  if (outcome.error) console.error(`${command} could not be started: ${outcome.error.message}`)
  return outcome.status ?? 1
}

/** Runs a JavaScript file with this Node. */
export const runNode = (file, ...args) => run(process.execPath, [inRoot(file), ...args])

/** Runs npm itself, found the way that works on each platform. */
export function npm(...args) {
  const own = process.env.npm_execpath
  if (own && /npm-cli\.(c|m)?js$/.test(own)) return run(process.execPath, [own, ...args])
  return run(windows ? "npm.cmd" : "npm", args, { shell: windows })
}

/** Node 20 is the oldest that the project is tried on. */
export function checkNode() {
  const major = Number(process.versions.node.split(".")[0])
  if (major < 20)
    giveUp(`This is Node ${process.versions.node}; Resolutio needs Node 20 or newer (https://nodejs.org).`)
}

/** Installs the npm packages when they are missing or older than the lock file says. */
export function install() {
  const installed = inRoot("node_modules", ".package-lock.json")
  const bin = inRoot("node_modules", ".bin", windows ? "resolutio.cmd" : "resolutio")
  if (existsSync(installed) && existsSync(bin) && sameAsLocked(installed)) return
  step("Installing the npm packages (npm ci)")
  const status = npm("ci", "--no-audit", "--no-fund")
  if (status !== 0) giveUp("npm ci failed; its message stands above. Is there a network or a package cache?")
}

function sameAsLocked(installed) {
  const wanted = JSON.parse(readFileSync(inRoot("package-lock.json"), "utf8")).packages
  const have = JSON.parse(readFileSync(installed, "utf8")).packages
  return Object.entries(wanted).every(
    ([path, entry]) =>
      path === "" ||
      entry.link ||
      entry.optional ||
      !path.startsWith("node_modules/") ||
      have[path]?.version === entry.version,
  )
}

/** Newest change among the files of these folders, in milliseconds; 0 when there are none. */
export function newest(folders, keep = () => true) {
  let time = 0
  for (const file of folders.flatMap(folder => filesUnder(inRoot(folder))))
    if (keep(file)) time = Math.max(time, statSync(file).mtimeMs)
  return time
}

/** Every file below a folder (or the file itself), node_modules and dist left out, in order of name. */
export function filesUnder(path) {
  if (!existsSync(path)) return []
  if (!statSync(path).isDirectory()) return [path]
  return readdirSync(path, { withFileTypes: true })
    .filter(entry => entry.name !== "node_modules" && entry.name !== "dist")
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap(entry => (entry.isDirectory() ? filesUnder(join(path, entry.name)) : [join(path, entry.name)]))
}

export const fromRoot = path => relative(root, path)
