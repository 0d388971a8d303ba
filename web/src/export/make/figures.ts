/** Figures for lectures and print, with their words in a file beside them. */
import { drawFigure, figureKind, figureSize, type PassagePart } from "@resolutio/core"
import { exportWords } from "../../words/export.js"
import type { Contents, Format, Known } from "../formats.js"
import type { Wishes } from "../offered.js"
import { chosenPart } from "./passage.js"
import { pictured, TYPES, type PictureEnding } from "./pictures.js"

const MILLIMETRE = 72 / 25.4

function figure(ending: PictureEnding): Format {
  return {
    ending: `.figure${ending}`,
    type: TYPES[ending],
    make: piece => drawn(piece, ending),
  }
}

/** What is chosen, else the voices that were named. */
function partOf(piece: Known): PassagePart {
  const chosen = chosenPart(piece)
  const { voices } = piece.wishes
  return { ...chosen, ...(voices.length > 0 ? { voices } : {}) }
}

const NAMES = ["modusmaior", "modus", "tempus", "prolatio"]

/** Signs as they are written, and divisions as numbers, the prolation last: "3 2, 2 3 2". */
function signsOf({ signs, levels }: Wishes): string[] {
  const numbers = levels
    .split(/[,;]/)
    .map(one =>
      one
        .trim()
        .split(/[\s×x]+/)
        .filter(Boolean),
    )
    .filter(one => one.length > 0)
  const bad = numbers.find(one => one.length < 2 || one.length > 4 || one.some(n => n !== "2" && n !== "3"))
  if (bad) throw new Error(exportWords.badLevels(bad.join(" ")))
  const inShorthand = (one: readonly string[]): string =>
    ["mens", ...NAMES.slice(NAMES.length - one.length).map((name, i) => `${name}=${one[i]}`)].join(":")
  return [...signs.split(/\s+/).filter(Boolean), ...numbers.map(inShorthand)]
}

async function drawn(piece: Known, ending: PictureEnding): Promise<Contents> {
  const { page, readings, wishes } = piece
  const size = figureSize(wishes.size)!
  const select = wishes.selected === undefined ? {} : { select: wishes.selected }
  const shown = figureKind(wishes.figure)!.ofPiece ? { piece: { page, readings }, part: partOf(piece), ...select } : {}
  const signs = figureKind(wishes.figure)!.ofPiece ? [] : signsOf(wishes)
  const made = drawFigure({
    kind: wishes.figure,
    size,
    ...shown,
    ...(signs.length > 0 ? { signs } : {}),
    ...(wishes.headline.trim() === "" ? {} : { title: wishes.headline.trim() }),
    captioned: wishes.caption === "inside",
    dark: /dark|black/.test(wishes.theme),
  })
  if (!made.ok) throw new Error(made.problems.map(({ what, mend }) => `${what} ${mend ?? ""}`).join(" "))
  const { pictures, words } = made.value
  const sheets =
    ending === ".pdf"
      ? [{ number: "", scenes: pictures.map(one => one.scene) }]
      : pictures.map(({ number, scene }) => ({ number, scenes: [scene] }))
  const width = size.printed === undefined ? undefined : size.printed * MILLIMETRE
  const files: [string, string | Uint8Array][] = []
  for (const { number, scenes } of sheets) {
    const end = `.${wishes.figure}${number === "" ? "" : `-${number}`}${ending}`
    files.push([end, await pictured(scenes, ending, piece, width)])
  }
  return { files: [...files, [`.${wishes.figure}.alt.txt`, words]] }
}

export const FIGURES = {
  figureSvg: figure(".svg"),
  figurePng: figure(".png"),
  figurePdf: figure(".pdf"),
} as const satisfies Record<string, Format>
