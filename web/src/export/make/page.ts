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
  toNumber,
  withPage,
  writeMei,
  type PageOptions,
} from "@resolutio/core"
import type { Format, Known, Piece } from "../formats.js"
import { voicesWished } from "./passage.js"
import { acrossTheSheet, picture, USUAL_WIDTH } from "./pictures.js"

const mei = ({ page, mei: text }: Piece): string => {
  const read = text === undefined ? undefined : readMei(text)
  return read?.ok ? writeMei(withPage(read.value, page)) : newMei(page)
}

/** Voices under one another stand by when they sound. */
function asked({ score, wishes }: Known): PageOptions {
  const { set, spacing, lines, staff, width, space } = wishes
  const moments = new Map(
    score.voices.flatMap(voice =>
      voice.events.flatMap(({ id, onset }) => (id === null ? [] : [[id, toNumber(onset)] as const])),
    ),
  )
  return {
    voices: set,
    spacing,
    lines,
    ...(staff === "" ? {} : { staff }),
    ...(width === undefined ? {} : { width }),
    ...(space === undefined ? {} : { unit: space }),
    ...(set === "under" ? { moments } : {}),
  }
}

export const PAGE = {
  mei: { ending: ".mei", type: "application/mei+xml", make: mei },
  figurae: { ending: ".figurae", type: "text/plain", make: ({ page }) => printShorthand(page) },
  json: {
    ending: ".json",
    type: "application/json",
    make: ({ page, readings, wishes }) =>
      `${JSON.stringify(readingJson(page, voicesWished(readings, wishes), fitOf(readings)), null, 2)}\n`,
  },
  csv: {
    ending: ".csv",
    type: "text/csv",
    make: ({ readings, values, wishes }) => readingsCsv(voicesWished(readings, wishes), values),
    losses: ({ page, readings }) => csvCannotCarry(page, readings),
  },
  pageSvg: picture("page", ".svg", piece => [drawPage(piece.page, asked(piece))]),
  pagePng: picture("page", ".png", piece => [drawPage(piece.page, asked(piece))]),
  pagePdf: picture("page", ".pdf", piece => {
    const options = asked(piece)
    return drawSheets(piece.page, {
      ...options,
      sheetHeight: Math.floor((options.width ?? USUAL_WIDTH) / acrossTheSheet),
    })
  }),
} as const satisfies Record<string, Format>
