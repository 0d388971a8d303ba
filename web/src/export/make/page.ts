/** The page: in its written forms, read, and drawn as a scribe would set it. */
import {
  csvCannotCarry,
  drawPage,
  drawSheets,
  fitOf,
  newMei,
  printShorthand,
  readingJson,
  readingsCsv,
  readMei,
  withPage,
  writeMei,
} from "@resolutio/core"
import type { Format, Piece } from "../formats.js"
import { acrossTheSheet, picture, USUAL_WIDTH } from "./pictures.js"

const mei = ({ page, mei: text }: Piece): string => {
  const read = text === undefined ? undefined : readMei(text)
  return read?.ok ? writeMei(withPage(read.value, page)) : newMei(page)
}

export const PAGE = {
  mei: { ending: ".mei", type: "application/mei+xml", make: mei },
  figurae: { ending: ".figurae", type: "text/plain", make: ({ page }) => printShorthand(page) },
  json: {
    ending: ".json",
    type: "application/json",
    make: ({ page, readings }) => `${JSON.stringify(readingJson(page, readings, fitOf(readings)), null, 2)}\n`,
  },
  csv: {
    ending: ".csv",
    type: "text/csv",
    make: ({ readings, values }) => readingsCsv(readings, values),
    losses: ({ page, readings }) => csvCannotCarry(page, readings),
  },
  pageSvg: picture("page", ".svg", ({ page }) => [drawPage(page)]),
  pagePng: picture("page", ".png", ({ page }) => [drawPage(page)]),
  pagePdf: picture("page", ".pdf", ({ page }) =>
    drawSheets(page, { sheetHeight: Math.floor(USUAL_WIDTH / acrossTheSheet) }),
  ),
} as const satisfies Record<string, Format>
