/** `resolutio draw`: the page as a scribe would set it, as a picture. */
import {
  THEMES,
  alignVoices,
  drawPage,
  drawSheets,
  themeNamed,
  toNumber,
  undrawnIn,
  type Page,
  type PageOptions,
  type Problem,
  type Scene,
  type SignId,
} from "@resolutio/core"
import { measure, SPACES, WIDTHS, type DrawFlags } from "./draw-flags.js"
import { drawTimeView } from "./draw-time.js"
import { readInput } from "./input.js"
import { either, refuse, showProblem } from "./messages.js"
import { endingOf, save, unknownEnding } from "./output.js"
import { lettersLacking, PICTURE_ENDINGS, pictureOf } from "./pictures.js"
import { readOptions, readWith } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export const THEME_NAMES: readonly string[] = THEMES.map(one => one.name)

export async function draw(file: string, flags: DrawFlags, shell: Shell): Promise<number> {
  const ending = endingOf(flags.output)
  if (!PICTURE_ENDINGS.includes(ending)) return refuse([unknownEnding(flags.output, PICTURE_ENDINGS)], shell, file)
  if (flags.view === "time") return drawTimeView(file, flags, shell)
  const options = readOptions(flags)
  const width = measure("--width", flags.width, WIDTHS)
  const space = measure("--space", flags.space, SPACES)
  const input = readInput(file)
  if (!options.ok || !width.ok || !space.ok || !input.ok) {
    const wrong = [options, width, space, input].filter(outcome => !outcome.ok)
    return refuse(
      wrong.flatMap(one => one.problems),
      shell,
      file,
    )
  }
  const { page } = input.value
  const moments = flags.voices === "under" ? momentsOf(page, flags, options.value) : undefined
  const asked = pageOptions(flags, width.value, space.value, moments)
  const theme = themeNamed(flags.theme)!
  const sheets = sheetsFor(page, asked, ending)
  const tooLarge = ending === ".png" ? largerThanAPicture(sheets[0]!) : undefined
  if (tooLarge) return refuse([tooLarge], shell, file)
  const how = { theme, outlines: flags.outlines ?? false }
  const content = await pictureOf(sheets, ending, how)
  const problem = save(flags, content, shell)
  if (problem) return refuse([problem], shell, file)
  const problems = [...input.value.problems, ...notDrawn(page), ...lettersLacking(sheets, ending, how)]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

/** When everything sounds, for setting one voice under another. */
function momentsOf(page: Page, { alone }: DrawFlags, options: Parameters<typeof readWith>[1]): Map<SignId, number> {
  const { readings } = readWith(page, options, alone)
  const score = alignVoices(page, readings)
  return new Map(
    score.voices.flatMap(voice =>
      voice.events.flatMap(event => (event.id === null ? [] : [[event.id, toNumber(event.onset)] as const])),
    ),
  )
}

function pageOptions(
  { voices, spacing, lines, staff }: DrawFlags,
  width: number | undefined,
  unit: number | undefined,
  moments: PageOptions["moments"],
): PageOptions {
  return {
    voices,
    spacing,
    lines,
    ...(staff ? { staff } : {}),
    ...(width === undefined ? {} : { width }),
    ...(unit === undefined ? {} : { unit }),
    ...(moments ? { moments } : {}),
  }
}

/** Height of an A4 page, its width being 1. */
const A4 = 841.89 / 595.28
const USUAL_WIDTH = 1200

function sheetsFor(page: Page, options: PageOptions, ending: string): Scene[] {
  if (ending !== ".pdf") return [drawPage(page, options)]
  return drawSheets(page, { ...options, sheetHeight: Math.floor((options.width ?? USUAL_WIDTH) * A4) })
}

/** More points than a picture can well have: they are all held in memory at once. */
const MOST_POINTS = 150_000_000

function largerThanAPicture({ width, height }: Scene): Problem | undefined {
  if (width * height <= MOST_POINTS) return undefined
  return {
    code: "picture-too-large",
    what: `As PNG this page would be ${Math.round(width)} × ${height} px.`,
    where: { place: "-o" },
    mend: "Write it as .pdf, which has pages, or as .svg; or ask for smaller staves with --space.",
    severity: "error",
  }
}

/** Signs that a file carries along and that have no form of their own. */
function notDrawn(page: Page): Problem[] {
  const names = undrawnIn(page)
  if (names.length === 0) return []
  const kinds = either([...new Set(names)]).replace(/ or (?=[^ ]*$)/, " and ")
  return [
    {
      code: "not-drawn",
      what: `${names.length === 1 ? "One sign has" : `${names.length} signs have`} no form that is known here: ${kinds}.`,
      mend: "Nothing need be done: an open lozenge with the name over it stands in the place, and the file keeps what it has.",
      severity: "warning",
    },
  ]
}
