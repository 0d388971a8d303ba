import { run } from "./program.js"
import { CANNOT, processShell } from "./shell.js"

export { run }

/** The program as it is called from a terminal; gives its exit status. */
export function main(args: readonly string[]): Promise<number> {
  // An ending by a fault deeper down than a command still has to be a sentence.
  process.on("uncaughtException", error => {
    process.stderr.write(`Resolutio itself has failed here. Please report this: “${error.message}”\n`)
    process.exit(CANNOT)
  })
  return run(args, processShell())
}
