/** Figures for lectures and print, with their words in a file beside them. */
import { drawFigure, figureKind, figureSize, plus, type PassagePart } from "@resolutio/core"
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

/** Of several signs that are chosen the passage from the first to the last; else the whole. */
function partOf({ score, wishes }: Known): PassagePart {
  const chosen = new Set(wishes.chosen)
  const voice = score.voices.find(({ events }) => events.some(({ sign }) => sign !== null && chosen.has(sign)))
  const events = voice?.events.filter(({ sign }) => sign !== null && chosen.has(sign)) ?? []
  const [first, last] = [events[0], events.at(-1)]
  if (!voice || !first || !last || events.length < 2) return {}
  const duration = last.kind === "note" && last.held ? last.readDuration : last.duration
  return { from: first.onset, to: plus(last.onset, duration), voices: [voice.n] }
}

async function drawn(piece: Known, ending: PictureEnding): Promise<Contents> {
  const { page, readings, wishes } = piece
  const size = figureSize(wishes.size)!
  const select = wishes.selected === undefined ? {} : { select: wishes.selected }
  const shown = figureKind(wishes.figure)!.ofPiece ? { piece: { page, readings }, part: partOf(piece), ...select } : {}
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
