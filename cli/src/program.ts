/** The command line: what it offers, and the one place where anything unforeseen is caught. */
import { Command, CommanderError, Option } from "commander"
import { CLEF_NAMES, EQUIVALENCES, THEMES, TIMBRES, TUNINGS } from "@resolutio/core"
import { conventionOptions } from "./conventions.js"
import { withBookOptions } from "./edition/book.js"
import { addFigure } from "./figure-command.js"
import { withReadingOptions } from "./reading.js"
import { CANNOT, type Shell } from "./shell.js"
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

type Done = (status: number) => void

const format = (more?: string, forWhat?: string) =>
  new Option("--format <name>", `text for people, json for programs${more ? `, ${more} ${forWhat}` : ""}`)
    .choices(["text", "json", ...(more ? [more] : [])])
    .default("text")
/** An option that may be given several times; the help says what holds without it. */
const repeated = (flag: string, description: string, without: string): Option =>
  new Option(flag, `${description} (may be repeated)`)
    .argParser((one: string, all: string[]) => [...all, one])
    .default([], without)

const repeats = () =>
  new Option(
    "--repeats <how>",
    "repeats, endings and refrains as signs, or written out; with stanzas one after another too",
  )
    .choices(["signs", "written", "stanzas"])
    .default("signs")

function addRead(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("read"))
    .description("print how long every sign of a piece lasts, and why")
    .argument("<file...>", "MEI or shorthand (.figurae)")
    .addOption(format("csv", "a table for spreadsheets"))
    .addOption(repeated("--voice <name>", "only this voice, by label or number", "all"))
    .option("--all", "every sign of long voices too")
    .action(async (files, flags) => done((await import("./read.js")).read(files, flags, shell)))
}

function addExplain(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("explain"))
    .description("tell the whole story of one sign")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .argument("<place>", 'voice and number of a note or rest, such as "tenor 12", or an xml:id')
    .action(async (file, place, flags) => done((await import("./explain.js")).explain(file, place, flags, shell)))
}

function addDecide(program: Command, shell: Shell, done: Done): void {
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

function addFit(program: Command, shell: Shell, done: Done): void {
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

function addFicta(program: Command, shell: Shell, done: Done): void {
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

function addConvert(program: Command, shell: Shell, done: Done): void {
  program
    .command("convert")
    .description("write a page in the other written form, or in the present version of MEI")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .requiredOption("-o, --output <name>", "file to write; it ends in .mei or .figurae")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./convert.js")).convert(file, flags, shell)))
}

function addScore(program: Command, shell: Shell, done: Done): void {
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

function addReport(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("report"))
    .description("print the critical report: emendations, decisions, and what could be read otherwise")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .option("-o, --output <name>", "file to write in place of printing; it ends in .txt, .md or .csv")
    .option("--doubt <number>", "tell what else it could be from this doubt on, 0 to 1 (default: 0.2)")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./report.js")).report(file, flags, shell)))
}

function addDraw(program: Command, shell: Shell, done: Done): void {
  const oneOf = (flag: string, description: string, names: readonly string[], usual?: string) =>
    new Option(flag, description).choices(names).default(usual)
  withReadingOptions(program.command("draw"))
    .description("draw the page as a scribe would set it, or all voices over one axis of time")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .addOption(oneOf("--view <name>", "what to draw", ["page", "time"], "page"))
    .requiredOption("-o, --output <name>", "file to write; it ends in .svg, .png or .pdf")
    .addOption(
      oneOf(
        "--theme <name>",
        "colours",
        THEMES.map(one => one.name),
        "light",
      ),
    )
    .option("--width <px>", "width of the picture (default: 1200, of the time view 1920)")
    .option("--space <px>", "height of a staff space (default: 12, of the time view by its width)")
    .addOption(
      oneOf(
        "--voices <how>",
        "one after another, or one under another by when they sound",
        ["apart", "under"],
        "apart",
      ),
    )
    .addOption(oneOf("--spacing <how>", "by the shapes of the signs, or all alike", ["shape", "even"], "shape"))
    .addOption(oneOf("--lines <how>", "as the source breaks them, or to fit the width", ["source", "fit"], "source"))
    .addOption(
      oneOf("--staff <colour>", "colour of the staves (default: the source's, or grey)", ["red", "black", "grey"]),
    )
    .option("--no-words", "time view: without the words under the notes")
    .option("--compact", "time view: signs over bands without staves, for many voices")
    .option("--from <moment>", "time view: from this moment on, in minims or tempora")
    .option("--to <moment>", "time view: up to this moment")
    .option("--select <place>", 'time view: mark this sign and tell the reason for it ("tenor 12", or an xml:id)')
    .option("--height <px>", "time view: cut into sheets of this height (several only as PDF)")
    .option("--outlines", "letters as outlines: an SVG that needs no fonts")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done(await (await import("./draw.js")).draw(file, flags, shell)))
}

function addHear(program: Command, shell: Shell, done: Done): void {
  const oneOf = (flag: string, description: string, names: readonly string[]) =>
    new Option(flag, description).choices(names).default(names[0])
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
  const oneOf = (flag: string, description: string, names: readonly string[]) =>
    new Option(flag, description).choices(names).default(names[0])
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

function addShow(program: Command, shell: Shell, done: Done): void {
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

function addTenor(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("tenor"))
    .description("print what comes again in a voice, pitches (color) and durations (talea), statement under statement")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .addOption(format())
    .addOption(repeated("--voice <name>", "this voice, by label or number, rather than the tenor", "the tenor"))
    .action(async (file, flags) => done((await import("./tenor.js")).tenor(file, flags, shell)))
}

function addMensuration(program: Command, shell: Shell, done: Done): void {
  withReadingOptions(program.command("mensuration"))
    .description("find practices and mensurations from the notes, and show what speaks for and against each")
    .argument("<file>", "MEI or shorthand (.figurae)")
    .addOption(format())
    .option("-o, --output <name>", "also write a new file with the signs in it, marked as supplied (.mei or .figurae)")
    .option("--force", "write over a file of this name")
    .action(async (file, flags) => done((await import("./mensuration.js")).mensuration(file, flags, shell)))
}
