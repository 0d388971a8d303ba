/** The commands that write a score, and what an editor says of it. */
import type { Command } from "commander"
import { CLEF_NAMES } from "@resolutio/core"
import { conventionOptions } from "./conventions.js"
import { withBookOptions } from "./edition/book.js"
import { repeated, repeats, type Done } from "./options.js"
import { withReadingOptions } from "./reading.js"
import type { Shell } from "./shell.js"

export function addScore(program: Command, shell: Shell, done: Done): void {
  const score = withReadingOptions(program.command("score"))
    .description("write the edition as a book, the modern score in other forms, or its readings as a table")
    .argument("[file]", "MEI or shorthand (.figurae)")
    .option("-o, --output <name>", "file to write; it ends in .pdf, .svg, .png, .mei, .musicxml, .mxl, .mid or .csv")
    .option("--no-prefatory-staves", "pictures and PDF: only the names before the first system, no incipits and ranges")
    .option("--force", "write over a file of this name")
    .addOption(repeats())
    .option("--style <name>", "house style (default: own-bars); what else is asked for goes before it")
    .option("--list-styles", "print the house styles and what they do")
    .option("--reduction <n>", "how many times shorter than written the values are (default: by the practice)")
    .addOption(
      repeated("--clef <voice=clef>", `clef of a voice, or clefs to choose from: ${CLEF_NAMES.join(", ")}`, "by range"),
    )
  for (const option of conventionOptions()) score.addOption(option)
  withBookOptions(score)
  score.action(async (file, flags) => done(await (await import("./score.js")).score(file, flags, shell)))
}

export function addReport(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("report"))
    .description("print the critical report: emendations, decisions, and what could be read otherwise")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .option("-o, --output <name>", "file to write in place of printing; it ends in .txt, .md or .csv")
    .option("--doubt <number>", "tell what else it could be from this doubt on, 0 to 1 (default: 0.2)")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./report.js")).report(file, flags, shell)))
}
