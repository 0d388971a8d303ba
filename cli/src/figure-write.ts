/** A figure on disk: its pictures one after another, and beside them its words. */
import { themeNamed, type Figure, type FigureSize, type Problem, type Scene } from "@resolutio/core"
import { writeWhole } from "./files.js"
import { Stopped, watch } from "./patience.js"
import { endingOf } from "./output.js"
import { pictureOf } from "./pictures.js"
import { plain, type Shell } from "./shell.js"

/** How it is written. */
export interface Writing {
  readonly output: string
  readonly size: FigureSize
  readonly theme: string
  readonly outlines?: boolean
  readonly force?: boolean
}

interface Sheet {
  readonly name: string
  readonly scenes: readonly Scene[]
}

/** The first problem ends it; so does an interrupt from the keyboard, between one picture and the next. */
export async function writeFigure(
  figure: Figure,
  how: Writing,
  shell: Shell,
): Promise<Problem | "stopped" | undefined> {
  const { output, force } = how
  const problem = await writeSheets(sheetsOf(figure, output), how, shell)
  if (problem) return problem
  const ending = endingOf(output)
  const beside = `${output.slice(0, output.length - ending.length)}.alt.txt`
  const unwritten = writeWhole(beside, figure.words, force)
  if (unwritten) return unwritten
  shell.err(`Written: ${plain(beside)}`)
  const made = figure.made ?? cutInWords(figure)
  if (made !== undefined) shell.err(plain(made))
  return undefined
}

function sheetsOf({ pictures }: Figure, output: string): Sheet[] {
  return endingOf(output) === ".pdf"
    ? [{ name: output, scenes: pictures.map(one => one.scene) }]
    : pictures.map(({ number, scene }) => ({ name: numbered(output, number), scenes: [scene] }))
}

/** "dots-2.svg" of "dots.svg". */
function numbered(output: string, number: string): string {
  const ending = output.slice(output.length - endingOf(output).length)
  const stem = output.slice(0, output.length - ending.length)
  return number === "" ? output : `${stem}-${number}${ending}`
}

/** Of a series of steps each picture has a number, of what was cut the first has none. */
function cutInWords({ pictures }: Figure): string | undefined {
  const isCut = pictures.length > 1 && pictures[0]?.number === "" && pictures[1]?.number === "2"
  return isCut
    ? `It is too long for one picture of this size with letters that can be read: it stands in ${pictures.length}, one after another.`
    : undefined
}

const MILLIMETRE = 72 / 25.4

async function writeSheets(
  sheets: readonly Sheet[],
  { output, size, theme, outlines = false, force }: Writing,
  shell: Shell,
): Promise<Problem | "stopped" | undefined> {
  const options = {
    theme: themeNamed(theme)!,
    outlines,
    ...(size.printed === undefined ? {} : { pageWidth: size.printed * MILLIMETRE }),
  }
  const waiting = watch(shell)
  let written = 0
  try {
    for (const [at, { name, scenes }] of sheets.entries()) {
      await new Promise(resolve => void setImmediate(resolve))
      // where nobody watches, the names that are printed tell enough
      if (shell.status || waiting.signal.aborted)
        waiting.say(`Picture ${at + 1} of ${sheets.length}`, at / sheets.length)
      const content = await pictureOf(scenes, endingOf(output), options)
      shell.status?.("")
      const problem = writeWhole(name, content, force)
      if (problem) return problem
      shell.err(`Written: ${plain(name)}`)
      written++
    }
    return undefined
  } catch (error) {
    if (!(error instanceof Stopped)) throw error
    shell.status?.("")
    shell.err(written > 0 ? "Stopped; the pictures named above were written." : "Stopped; nothing was written.")
    return "stopped"
  } finally {
    waiting.done()
  }
}
