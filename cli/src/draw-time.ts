/** `resolutio draw --view time`: all voices over one axis of exact time, as a picture. */
import {
  alignVoices,
  drawTime,
  drawTimeSheets,
  findSign,
  fromText,
  soundingOf,
  themeNamed,
  type Problem,
  type Rational,
  type Result,
  type Scene,
  type Score,
  type SignId,
  type TimeInput,
  type TimeOptions,
} from "@resolutio/core"
import { measure, SPACES, WIDTHS, type DrawFlags } from "./draw-flags.js"
import { readInput } from "./input.js"
import { refuse, showProblem } from "./messages.js"
import { endingOf, save } from "./output.js"
import { lettersLacking, pictureOf } from "./pictures.js"
import { noSuchSign, readOptions, readWith, type PageRead } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

/** A staff space at full size, in px. */
const FULL_SPACE = 17
const HEIGHTS = { from: 300, to: 20_000, what: "px in the height of a sheet" }

export async function drawTimeView(file: string, flags: DrawFlags, shell: Shell): Promise<number> {
  const options = readOptions(flags)
  const sizes = sizesOf(flags)
  const input = readInput(file)
  if (!options.ok || !sizes.ok || !input.ok)
    return refuse(
      [options, sizes, input].filter(one => !one.ok).flatMap(one => one.problems),
      shell,
      file,
    )
  const read = readWith(input.value.page, options.value, flags.alone)
  const score = alignVoices(read.page, read.readings)
  // a canon is drawn as the voices that sound
  const sounding = soundingOf(read.page, read.readings)
  const part = partOf(flags, score)
  const select = selected(flags.select, read)
  if (!part.ok || !select.ok)
    return refuse(
      [part, select].filter(one => !one.ok).flatMap(one => one.problems),
      shell,
      file,
    )
  const asked: TimeOptions = {
    ...sizes.value,
    ...part.value,
    ...select.value,
    compact: flags.compact ?? false,
    words: flags.words ?? true,
  }
  const ending = endingOf(flags.output)
  const sheets = sheetsFor({ ...sounding, score }, asked, ending)
  const how = { theme: themeNamed(flags.theme)!, outlines: flags.outlines ?? false }
  const content = await pictureOf(sheets, ending, how)
  const problem = save(flags, content, shell)
  if (problem) return refuse([problem], shell, file)
  const problems = [
    ...input.value.problems,
    ...read.readings.flatMap(one => one.problems),
    ...score.problems,
    ...onlyFirst(sheets, ending),
    ...lettersLacking(sheets, ending, how),
  ]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

type Sizes = Pick<TimeOptions, "width" | "size" | "sheetHeight">

function sizesOf(flags: DrawFlags): Result<Sizes> {
  const width = measure("--width", flags.width, WIDTHS)
  const space = measure("--space", flags.space, SPACES)
  const height = measure("--height", flags.height, HEIGHTS)
  if (!width.ok || !space.ok || !height.ok)
    return { ok: false, problems: [width, space, height].flatMap(one => one.problems) }
  const value: Sizes = {
    ...(width.value === undefined ? {} : { width: width.value }),
    ...(space.value === undefined ? {} : { size: space.value / FULL_SPACE }),
    ...(height.value === undefined ? {} : { sheetHeight: height.value }),
  }
  return { ok: true, value, problems: [] }
}

/** The part of the axis that is asked for, which must be some of it. */
export function partOf(
  { from, to }: Pick<DrawFlags, "from" | "to">,
  { duration, unit }: Score,
): Result<Pick<TimeOptions, "from" | "to">> {
  const [first, last] = [moment("--from", from), moment("--to", to)]
  if (!first.ok || !last.ok) return { ok: false, problems: [first, last].flatMap(one => one.problems) }
  const [start, end] = [first.value ?? { num: 0, den: 1 }, last.value ?? duration]
  const units = unit === "minima" ? "minims" : "tempora"
  const whole = duration.num / duration.den
  if (whole === 0)
    return wrong(
      "the piece",
      "Nothing of it lasts yet, so there is no time to draw.",
      "Write a note or a rest into a voice first.",
    )
  if (start.num / start.den >= Math.min(end.num / end.den, whole))
    return wrong(
      "--from",
      `Nothing sounds between ${from ?? 0} and ${to ?? whole}.`,
      `The piece lasts from 0 to ${whole} ${units}: write a smaller number after --from, or a larger one after --to.`,
    )
  return { ok: true, value: { ...(from ? { from: start } : {}), ...(to ? { to: end } : {}) }, problems: [] }
}

function moment(place: string, text: string | undefined): Result<Rational | undefined> {
  const value = text === undefined ? undefined : fromText(text)
  if (text === undefined || (value !== undefined && value.num >= 0)) return { ok: true, value, problems: [] }
  return wrong(place, `“${text}” is no moment.`, "Write a number of minims or tempora: 24, or 9/2.")
}

function wrong<T>(place: string, what: string, mend: string): Result<T> {
  const problem: Problem = { code: "bad-moment", what, where: { place }, mend, severity: "error" }
  return { ok: false, problems: [problem] }
}

function selected(place: string | undefined, read: PageRead): Result<{ select?: SignId }> {
  if (place === undefined) return { ok: true, value: {}, problems: [] }
  const sign = findSign(read.page, place)
  if (!sign || (sign.kind !== "note" && sign.kind !== "rest")) return { ok: false, problems: [noSuchSign(place, read)] }
  return { ok: true, value: { select: sign.id }, problems: [] }
}

/** An A4 page across. */
const ACROSS = 595.28 / 841.89
const USUAL_WIDTH = 1920

function sheetsFor(input: TimeInput, options: TimeOptions, ending: string): Scene[] {
  if (options.sheetHeight !== undefined) return drawTimeSheets(input, options)
  if (ending !== ".pdf") return [drawTime(input, options)]
  return drawTimeSheets(input, { ...options, sheetHeight: Math.floor((options.width ?? USUAL_WIDTH) * ACROSS) })
}

function onlyFirst(sheets: readonly Scene[], ending: string): Problem[] {
  if (sheets.length < 2 || ending === ".pdf") return []
  return [
    {
      code: "more-sheets",
      what: `Only the first of ${sheets.length} sheets was drawn.`,
      where: { place: "--height" },
      mend: "Leave --height out for one long picture, write a PDF for all sheets, or draw a part with --from and --to.",
      severity: "warning",
    },
  ]
}
