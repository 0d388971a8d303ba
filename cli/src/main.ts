import { run } from "./program.js"
import { CANNOT, processShell } from "./shell.js"

// An ending by a fault deeper down than a command still has to be a sentence.
process.on("uncaughtException", error => {
  process.stderr.write(`Resolutio itself has failed here. Please report this: “${error.message}”\n`)
  process.exit(CANNOT)
})
process.exitCode = await run(process.argv.slice(2), processShell())
