/** Figures for lectures and print, with their words in a file beside them. */
import { drawFigure, figureKind, figureSize } from "@resolutio/core"
import type { Contents, Format, Known } from "../formats.js"
import { pictured, themeOf, TYPES, type PictureEnding } from "./pictures.js"

const MILLIMETRE = 72 / 25.4

function figure(ending: PictureEnding): Format {
  return {
    ending: `.figure${ending}`,
    type: TYPES[ending],
    make: piece => drawn(piece, ending),
  }
}

async function drawn(piece: Known, ending: PictureEnding): Promise<Contents> {
  const { page, readings, wishes } = piece
  const size = figureSize(wishes.size)!
  const shown = figureKind(wishes.figure)!.ofPiece
    ? { piece: { page, readings }, ...(wishes.selected === undefined ? {} : { select: wishes.selected }) }
    : {}
  const made = drawFigure({ kind: wishes.figure, size, ...shown, dark: /dark|black/.test(wishes.theme) })
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
    files.push([end, await pictured(scenes, ending, themeOf(piece), width)])
  }
  return { files: [...files, [`.${wishes.figure}.alt.txt`, words]] }
}

export const FIGURES = {
  figureSvg: figure(".svg"),
  figurePng: figure(".png"),
  figurePdf: figure(".pdf"),
} as const satisfies Record<string, Format>
