/** `resolutio figure`: pictures for lectures and print, and beside them their words. */
import {
  drawFigure,
  figureKind,
  figureSize,
  FIGURE_KINDS,
  FIGURE_SIZES,
  type FigureAsked,
  type FigureSize,
  type Problem,
  type Result,
} from "@resolutio/core"
import { pieceFor, type FigurePiece } from "./figure-piece.js"
import { signsFor } from "./figure-signs.js"
import { writeFigure } from "./figure-write.js"
import { either, refuse, showProblem } from "./messages.js"
import { endingOf, unknownEnding, type OutputFlags } from "./output.js"
import { lettersLacking, PICTURE_ENDINGS } from "./pictures.js"
import { parsePractice } from "./practice.js"
import type { ReadingFlags } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, STOPPED, type Shell } from "./shell.js"

export interface FigureFlags extends ReadingFlags, Partial<OutputFlags> {
  readonly list?: boolean
  readonly size: string
  readonly theme: string
  readonly title?: string
  readonly caption: "inside" | "aside"
  readonly voice?: readonly string[]
  readonly from?: string
  readonly to?: string
  readonly signs?: string
  readonly levels?: string
  readonly select?: string
  readonly outlines?: boolean
}

export async function figure(
  kind: string | undefined,
  file: string | undefined,
  flags: FigureFlags,
  shell: Shell,
): Promise<number> {
  if (flags.list) {
    for (const { name } of FIGURE_KINDS) shell.out(name)
    return READ
  }
  const asked = askedFor(kind, file, flags)
  if (!asked.ok) return refuse(asked.problems, shell, asked.problems[0]?.where?.file)
  const { output, size } = asked.value
  const drawn = drawFigure(asked.value.asked)
  if (!drawn.ok) return refuse(drawn.problems, shell, file)
  const failed = await writeFigure(drawn.value, { ...flags, output, size }, shell)
  if (failed === "stopped") return STOPPED
  if (failed) return refuse([failed], shell)
  const scenes = drawn.value.pictures.map(one => one.scene)
  const lacking = lettersLacking(scenes, endingOf(output), { outlines: flags.outlines ?? false })
  const problems = [...asked.value.problems, ...drawn.problems, ...lacking]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

interface Asked {
  readonly asked: FigureAsked
  readonly output: string
  readonly size: FigureSize
  readonly problems: readonly Problem[]
}

function askedFor(kind: string | undefined, file: string | undefined, flags: FigureFlags): Result<Asked> {
  const known = kind === undefined ? undefined : figureKind(kind)
  const size = figureSize(flags.size)
  const { output } = flags
  if (kind === undefined || !known) return wrong(noKind(kind))
  if (output === undefined) return wrong(noOutput())
  if (!PICTURE_ENDINGS.includes(endingOf(output))) return wrong(unknownEnding(output, PICTURE_ENDINGS))
  if (!size) return wrong(noSize(flags.size))
  const practice = flags.practice === undefined ? undefined : parsePractice(flags.practice)
  if (practice && !practice.ok) return practice
  const piece: Result<FigurePiece> = known.ofPiece && file !== undefined ? pieceFor(file, flags) : NO_PIECE
  if (!piece.ok) return piece
  const signs = known.ofPiece ? undefined : signsFor(flags)
  if (signs && !signs.ok) return signs
  const asked: FigureAsked = {
    kind: known.name,
    size,
    ...piece.value.asked,
    ...(practice && !known.ofPiece ? { practice: practice.value } : {}),
    ...(signs?.value ? { signs: signs.value } : {}),
    ...(flags.title === undefined ? {} : { title: flags.title }),
    captioned: flags.caption === "inside",
    dark: /dark|black/.test(flags.theme),
  }
  return { ok: true, value: { asked, output, size, problems: piece.value.problems }, problems: [] }
}

const NO_PIECE: Result<FigurePiece> = { ok: true, value: { asked: {}, problems: [] }, problems: [] }
const wrong = (problem: Problem): Result<Asked> => ({ ok: false, problems: [problem] })

const noKind = (kind: string | undefined): Problem => ({
  code: "unknown-figure",
  what:
    kind === undefined ? "It was not said what the figure is to show." : `There is no figure of the kind “${kind}”.`,
  mend: `Name one of these: ${either(FIGURE_KINDS.map(one => one.name))}.`,
  severity: "error",
})
const noOutput = (): Problem => ({
  code: "no-output",
  what: "It was not said where the figure is to be written.",
  where: { place: "-o" },
  mend: `Add -o and a name that ends in ${either(PICTURE_ENDINGS)}.`,
  severity: "error",
})
const noSize = (name: string): Problem => ({
  code: "unknown-size",
  what: `There is no size “${name}”.`,
  where: { place: "--size" },
  mend: `Name one of these: ${either(FIGURE_SIZES.map(one => one.name))}.`,
  severity: "error",
})
