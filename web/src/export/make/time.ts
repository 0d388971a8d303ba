/** All voices over one axis of time, drawn. */
import { drawTime, drawTimeSheets, soundingOf, type Scene } from "@resolutio/core"
import type { Format, Known } from "../formats.js"
import { momentsWished } from "./passage.js"
import { acrossTheSheet, picture } from "./pictures.js"

const WIDTH = 1920

/** A canon is drawn as the voices that sound. */
const input = ({ page, readings, score }: Known) => ({ ...soundingOf(page, readings), score })
const options = (piece: Known) => {
  const { selected, compact, words, width } = piece.wishes
  return {
    ...(selected === undefined ? {} : { select: selected }),
    ...(width === undefined ? {} : { width }),
    ...momentsWished(piece),
    compact,
    words,
  }
}
const whole = (piece: Known): Scene[] => [drawTime(input(piece), options(piece))]

export const TIME = {
  timeSvg: picture("time", ".svg", whole),
  timePng: picture("time", ".png", whole),
  timePdf: picture("time", ".pdf", piece =>
    drawTimeSheets(input(piece), {
      ...options(piece),
      sheetHeight: piece.wishes.height ?? Math.floor((piece.wishes.width ?? WIDTH) * acrossTheSheet),
    }),
  ),
} as const satisfies Record<string, Format>
