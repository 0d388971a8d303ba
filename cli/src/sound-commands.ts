/** The commands that make a piece heard. */
import { Option, type Command } from "commander"
import { EQUIVALENCES, TIMBRES, TUNINGS } from "@resolutio/core"
import { oneOf, repeated, type Done } from "./options.js"
import { withReadingOptions } from "./reading.js"
import type { Shell } from "./shell.js"

export function addHear(program: Command, shell: Shell, done: Done): void {
  withPerformanceOptions(withReadingOptions(program.command("hear")))
    .description("write a piece as sound, and when each sign is heard")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .requiredOption("-o, --output <name>", "file to write; it ends in .wav, .ogg or .mp3 (these two need ffmpeg)")
    .addOption(
      oneOf("--files <which>", "all voices in one file; one file for each; or each loud, the others soft", [
        "all",
        "each",
        "practice",
      ]),
    )
    .option(
      "--balance",
      "with --files each: as loud as the voices are in the whole, rather than each as loud as the whole",
    )
    .option("--count-in <beats>", "so many beats before it")
    .option("--from <where>", 'from this moment, in minims or tempora, or sign ("tenor 12")')
    .option("--to <where>", "up to this moment, or the end of this sign")
    .option("--loop <n>", "so many times without a gap")
    .option(
      "--rivals [place]",
      "a doubtful passage in two readings, one after the other (default: where doubt is greatest)",
    )
    .addOption(repeated("--markers <name>", "also write when each sign is heard; .csv, .json or .vtt", "none"))
    .option("--force", "write over files of these names")
    .action(async (file, flags) => done(await (await import("./hear.js")).hear(file, flags, shell)))
}

/** How a piece is sounded: speed, tuning, voices, form. */
function withPerformanceOptions(command: Command): Command {
  const voice = (flag: string, description: string) => repeated(flag, description, "none")
  return command
    .option("--tempo <value=n>", "so many of a value in a minute: semibrevis=60 (default: by practice, an estimate)")
    .option("--speed <n>", "so many times as fast: 0.5, 1/2 or 50%")
    .addOption(
      repeated(
        "--equivalence <what>",
        `what stays equal where all voices change their sign: ${EQUIVALENCES.join(", ")}; for one change 24=breve or 24=3/2`,
        "as the practice says",
      ),
    )
    .option(
      "--tuning <which>",
      `${TUNINGS.join(", ")}, or a file with a table of your own (default: by year or practice)`,
    )
    .option("--year <n>", "when the piece was written, for the default tuning")
    .option("--pitch <hertz>", "of the a above the middle c (default: 440)")
    .option("--shift <interval>", "all so much higher or lower: P4, -M2")
    .addOption(repeated("--sound <which>", `${TIMBRES.join(", ")}; for one voice tenor=organ`, TIMBRES[0]!))
    .addOption(voice("--level <voice=n>", "decibels louder or softer: tenor=-6"))
    .addOption(voice("--place <voice=n>", "from -1, left, to 1, right"))
    .addOption(voice("--mute <voice>", "leave it out"))
    .addOption(voice("--solo <voice>", "leave the others out"))
    .addOption(
      oneOf("--plica <how>", "plicas have their tone; only where the reading gives it time; or none", [
        "sung",
        "read",
        "unsung",
      ]),
    )
    .addOption(
      oneOf("--repeats <how>", "repeats, endings and refrains sung; stanza after stanza too; or only signs", [
        "written",
        "stanzas",
        "signs",
      ]),
    )
    .option("--fermata <n>", "a note with a fermata lasts so many times as long (default: 2)")
    .option("--final <seconds>", "the final sounds at least so long (default: 2.5)")
}

export function addShow(program: Command, shell: Shell, done: Done): void {
  withPerformanceOptions(withReadingOptions(program.command("show")))
    .description("write one HTML file that shows, explains and plays a piece anywhere, without a network")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .requiredOption("-o, --output <name>", "file to write; it ends in .html")
    .addOption(
      new Option("--view <which>", "the old page, all voices over one axis of time, or both")
        .choices(["both", "page", "time"])
        .default("both"),
    )
    .option("--silent", "without the sound, which is most of the file")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done(await (await import("./show.js")).show(file, flags, shell)))
}
