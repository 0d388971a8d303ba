/** One HTML file that shows, explains and plays the piece by itself. */
import { alignVoices } from "@resolutio/core"
import { showPiece, type ShowView } from "@resolutio/press"
import { performed } from "../../sound/performed.js"
import type { Format, Known } from "../formats.js"
import { TOOLS } from "../tools.js"

function html({ page, readings, score, wishes, told }: Known): Promise<string> {
  const sung = alignVoices(page, readings, { repeats: wishes.hearing.repeats ?? "written" })
  const sound = wishes.silent ? {} : { performance: performed(sung, { ...wishes.hearing, countIn: false }) }
  const views: readonly ShowView[] = wishes.views === "both" ? ["page", "time"] : [wishes.views]
  return showPiece({ page, readings, score, ...sound, views, maker: wishes.maker }, TOOLS, told)
}

export const SHOW = {
  html: { ending: ".html", type: "text/html", make: html },
} as const satisfies Record<string, Format>
