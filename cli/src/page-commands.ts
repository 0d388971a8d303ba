/** The commands that write a page: its other form, decisions, emendations, accidentals. */
import type { Command } from "commander"
import { format, repeated, type Done } from "./options.js"
import { withReadingOptions } from "./reading.js"
import type { Shell } from "./shell.js"

export function addDecide(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("decide"))
    .description("fix how a sign is read, choose among rivals, refuse a reading; list what was decided, take it back")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .argument("[place]", 'voice and number of a note or rest, such as "tenor 12", or an xml:id')
    .option("--duration <value>", "it lasts so long, in the unit of its voice: 4 or 9/2")
    .addOption(repeated("--not <value>", "it does not last so long", "none"))
    .option("--dot <meaning>", "the dot (after it) is one of division, addition, perfection or alteration")
    .option("--rival <n>", "it is read as its rival of this number")
    .option("--voice-rival <n>", "its voice is read as the other reading of this number")
    .option(
      "--canon <text>",
      "how its voice is sung: 'voice voice=(after=2B interval=-5)', a word for each sounding voice",
    )
    .option("--form <parts>", "in which order the parts of the piece are sung: 'A B A2 A'")
    .option("--who <name>", "who decides: a name, or the id of a person in the file")
    .option("--why <text>", "the reason")
    .option("--list", "print all decisions in the file")
    .option("--undo <which>", "take back the decision of this id, number in the list or label")
    .option("-o, --output <name>", "file to write; it ends in .mei or .figurae")
    .option("--force", "write over a file of this name")
    .action(async (file, place, flags) => done((await import("./decide.js")).decide(file, place, flags, shell)))
}

export function addFit(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("fit"))
    .description("find where the voices first part and what single changes would mend it; on request make one")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .addOption(format())
    .addOption(repeated("--apply <n>", "make the emendation of this number", "none"))
    .option("-o, --output <name>", "new file to write it to; it ends in .mei or .figurae")
    .option("--who <name>", "who emends: a name, or the id of a person in the file")
    .option("--why <text>", "the reason (default: the one that is listed)")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./fit.js")).fit(file, flags, shell)))
}

export function addFicta(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("ficta"))
    .description("list the accidentals that the intervals ask for (musica ficta), with reasons; accept or refuse them")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .addOption(format())
    .addOption(
      repeated(
        "--accept <which>",
        "it is sung: a number in the list, a place, all of a grade, or 'like 3' for all of that voice for that reason",
        "none",
      ),
    )
    .addOption(repeated("--refuse <which>", "it is not sung, and not proposed again", "none"))
    .option("--all", "also what is left of cadences and tritones")
    .option("-o, --output <name>", "file to write the page to; it ends in .mei or .figurae")
    .option("--who <name>", "who decides: a name, or the id of a person in the file")
    .option("--why <text>", "the reason (default: that of the proposal)")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./ficta.js")).ficta(file, flags, shell)))
}

export function addConvert(program: Command, shell: Shell, done: Done): void {
  program
    .command("convert")
    .description("write a page in the other written form, or in the present version of MEI")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .requiredOption("-o, --output <name>", "file to write; it ends in .mei or .figurae")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./convert.js")).convert(file, flags, shell)))
}
