/** The engraver in a thread of its own. It is large, so it is only loaded when a score is wanted. */
import { scoreSvg } from "@resolutio/core"
import { openEngraver, type Engraver } from "@resolutio/press"
import type { FromEngraver, ToEngraver } from "./messages.js"

interface Surroundings {
  postMessage(message: FromEngraver): void
  addEventListener(name: "message", take: (event: MessageEvent<ToEngraver>) => void): void
}
const surroundings = self as unknown as Surroundings

const engraver = openEngraver()

surroundings.addEventListener("message", ({ data }) => {
  engraver
    .then(ready => surroundings.postMessage({ ask: data.ask, ...drawn(ready, data) }))
    .catch((error: unknown) => surroundings.postMessage({ ask: data.ask, failed: String(error) }))
})

function drawn(ready: Engraver, { mei, width }: ToEngraver) {
  const { score } = ready.engrave(mei, { width, title: false })
  const svg = scoreSvg(score, { title: "", description: "" })
  const [, wide = "0", high = "0"] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? []
  return { svg: forTheWindow(svg), width: Number(wide), height: Number(high) }
}

/**
 * In the window it takes the window's colours. Its ids are those of signs, which may be anything that a file says: they become
 * data, so that none is taken for an id of the window's own.
 */
function forTheWindow(svg: string): string {
  const inside = svg.slice(svg.indexOf(">") + 1, svg.lastIndexOf("</svg>"))
  return inside
    .replace(/<title[^>]*>[^<]*<\/title>|<title[^>]*\/>|<desc[^>]*>[^<]*<\/desc>|<desc[^>]*\/>/g, "")
    .replace(/ id="(?!glyph-)/g, ' data-score="')
    .replaceAll('"#000"', '"var(--ink)"')
}
