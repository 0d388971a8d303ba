/** The commands that tell how a page is read. */
import type { Command } from "commander"
import { format, repeated, type Done } from "./options.js"
import { withReadingOptions } from "./reading.js"
import type { Shell } from "./shell.js"

export function addRead(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("read"))
    .description("print how long every sign of a piece lasts, and why")
    .argument("<file...>", "MEI or shorthand (.figurae)")
    .addOption(format("csv", "a table for spreadsheets"))
    .addOption(repeated("--voice <name>", "only this voice, by label or number", "all"))
    .option("--all", "every sign of long voices too")
    .action(async (files, flags) => done((await import("./read.js")).read(files, flags, shell)))
}

export function addExplain(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("explain"))
    .description("tell the whole story of one sign")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .argument("<place>", 'voice and number of a note or rest, such as "tenor 12", or an xml:id')
    .action(async (file, place, flags) => done((await import("./explain.js")).explain(file, place, flags, shell)))
}

export function addTenor(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("tenor"))
    .description("print what comes again in a voice, pitches (color) and durations (talea), statement under statement")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .addOption(format())
    .addOption(repeated("--voice <name>", "this voice, by label or number, rather than the tenor", "the tenor"))
    .action(async (file, flags) => done((await import("./tenor.js")).tenor(file, flags, shell)))
}

export function addMensuration(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("mensuration"))
    .description("find practices and mensurations from the notes, and show what speaks for and against each")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .addOption(format())
    .option("-o, --output <name>", "also write a new file with the signs in it, marked as supplied (.mei or .figurae)")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./mensuration.js")).mensuration(file, flags, shell)))
}
