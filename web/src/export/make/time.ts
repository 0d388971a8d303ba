/** All voices over one axis of time, drawn. */
import { drawTime, drawTimeSheets, soundingOf, type Scene } from "@resolutio/core"
import type { Format, Known } from "../formats.js"
import { acrossTheSheet, picture } from "./pictures.js"

const WIDTH = 1920

/** A canon is drawn as the voices that sound. */
const input = ({ page, readings, score }: Known) => ({ ...soundingOf(page, readings), score })
const options = ({ wishes }: Known) => (wishes.selected === undefined ? {} : { select: wishes.selected })
const whole = (piece: Known): Scene[] => [drawTime(input(piece), options(piece))]

export const TIME = {
  timeSvg: picture("time", ".svg", whole),
  timePng: picture("time", ".png", whole),
  timePdf: picture("time", ".pdf", piece =>
    drawTimeSheets(input(piece), { ...options(piece), sheetHeight: Math.floor(WIDTH * acrossTheSheet) }),
  ),
} as const satisfies Record<string, Format>
