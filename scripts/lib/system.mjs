// Packages of the operating system. On Debian as root they are installed; elsewhere it is said how to get them.
import { existsSync } from "node:fs"
import { run } from "./tools.mjs"

/**
 * Sees to it that each of these is there: { program, debian, why }, "program" a path that proves it.
 * Gives a sentence for each that is still missing afterwards.
 */
export function systemPackages(wanted) {
  const missing = wanted.filter(one => !existsSync(one.program))
  if (missing.length > 0 && canInstall()) {
    run("apt-get", ["update", "-q"])
    run("apt-get", ["install", "-y", "-q", "--no-install-recommends", ...missing.map(one => one.debian)])
  }
  return missing
    .filter(one => !existsSync(one.program))
    .map(
      one => `${one.why}. On Debian: sudo apt-get install ${one.debian}; elsewhere install the program of that name.`,
    )
}

const canInstall = () => existsSync("/etc/debian_version") && process.getuid?.() === 0
