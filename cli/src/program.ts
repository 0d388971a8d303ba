/** The command line: what it offers, and the one place where anything unforeseen is caught. */
import { Command, CommanderError } from "commander"
import { addDraw, addFigure } from "./drawing-commands.js"
import { addReport, addScore } from "./edition-commands.js"
import { addConvert, addDecide, addFicta, addFit } from "./page-commands.js"
import { addExplain, addMensuration, addRead, addTenor } from "./reading-commands.js"
import { CANNOT, type Shell } from "./shell.js"
import { addHear, addShow } from "./sound-commands.js"
import { VERSION } from "./version.js"

/** Runs the program on these arguments (without Node's own two); gives the exit status and never throws. */
export async function run(args: readonly string[], shell: Shell): Promise<number> {
  let status = CANNOT
  const program = commands(shell, outcome => void (status = outcome))
  try {
    await program.parseAsync([...args], { from: "user" })
    return status
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : CANNOT
    shell.err(unforeseen(error))
    return CANNOT
  }
}

/** A fault of ours: said in a sentence, with what we need to mend it and nothing that frightens. */
function unforeseen(error: unknown): string {
  const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error)
  const short = what.split("\n", 1)[0]?.slice(0, 200)
  return `Resolutio itself has failed here; your file was not changed. Please report this, with the file if you can: “${short}”`
}

function commands(shell: Shell, done: (status: number) => void): Command {
  const program = new Command("resolutio")
    .description("Reads old music notation (c. 1260-1600): how long every sign lasts, and why.")
    .version(VERSION, "-V, --version", "print the version")
    .helpOption("-h, --help", "print this help")
    .helpCommand("help [command]", "print the help of a command")
    .exitOverride()
    .configureOutput({
      writeOut: text => shell.out(text.trimEnd()),
      writeErr: text => shell.err(text.trimEnd()),
      getOutHelpWidth: () => shell.columns ?? 100,
      outputError: (text, write) => write(`${text.trimEnd()}\nTo mend it: resolutio --help lists what there is.`),
    })
    .addHelpText("after", "\nExit status: 0 read; 1 read, with problems; 2 cannot be read.")
  addRead(program, shell, done)
  addExplain(program, shell, done)
  addDecide(program, shell, done)
  addFit(program, shell, done)
  addFicta(program, shell, done)
  addConvert(program, shell, done)
  addScore(program, shell, done)
  addReport(program, shell, done)
  addDraw(program, shell, done)
  addFigure(program, shell, done)
  addHear(program, shell, done)
  addShow(program, shell, done)
  addTenor(program, shell, done)
  addMensuration(program, shell, done)
  return program
}
