/** The commands that draw: the page, and figures for a lecture. */
import { Option, type Command } from "commander"
import { FIGURE_KINDS, FIGURE_SIZES, THEMES } from "@resolutio/core"
import { oneOf, type Done } from "./options.js"
import { withReadingOptions } from "./reading.js"
import type { Shell } from "./shell.js"

export function addDraw(program: Command, shell: Shell, done: Done): void {
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
      new Option("--staff <colour>", "colour of the staves (default: the source's, or grey)").choices([
        "red",
        "black",
        "grey",
      ]),
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

export function addFigure(program: Command, shell: Shell, done: (status: number) => void): void {
  const names = (all: readonly { readonly name: string }[]) => all.map(one => one.name)
  withReadingOptions(program.command("figure"))
    .description("make a figure for a lecture or for print, with its text for those who cannot see it")
    .argument("[kind]", `what to show (${names(FIGURE_KINDS).join(", ")})`)
    .argument("[file]", "MEI or shorthand (.figurae); without it a line of the program's own")
    .option("-o, --output <name>", "file to write; it ends in .svg, .png or .pdf")
    .option("--list", "print the kinds, one a line")
    .option("--size <name>", `size of the picture (${names(FIGURE_SIZES).join(", ")})`, "1920x1080")
    .addOption(new Option("--theme <name>", "colours").choices(names(THEMES)).default("light"))
    .option("--title <text>", "headline, in place of the figure's own")
    .addOption(
      new Option("--caption <where>", "sources in the figure, or only in the file beside it")
        .choices(["inside", "aside"])
        .default("inside"),
    )
    .addOption(
      new Option("--voice <name>", "only this voice, by label or number (may be repeated)")
        .argParser((one: string, all: string[]) => [...all, one])
        .default([], "all"),
    )
    .option("--from <moment>", "from this moment on, in minims or tempora")
    .option("--to <moment>", "up to this moment")
    .option("--signs <which>", 'notes of a voice ("tenor 3..12"); in tables signs of mensuration ("O. O C. C")')
    .option("--levels <numbers>", 'in trees and rests: divisions from the largest on ("3 2 3 2, 2 3 2 2")')
    .option("--select <place>", 'the sign that is asked about ("tenor 12", or an xml:id), or none')
    .option("--outlines", "letters as outlines: an SVG that needs no fonts")
    .option("--force", "write over files of these names")
    .action(async (kind, file, flags) => done(await (await import("./figure.js")).figure(kind, file, flags, shell)))
}
