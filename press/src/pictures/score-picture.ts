/** The modern score as one picture: SVG or PNG. */
import { prefatoryStaves, type EditionConventions, type Page, type Score } from "@resolutio/core"
import type { Tools } from "../tools.js"
import { engrave } from "./engrave.js"

export interface ScorePicture {
  readonly page: Page
  readonly score: Score
  readonly conventions: Partial<EditionConventions>
  /** Prefatory staves stand before the first system; else only the names. */
  readonly prefatory: boolean
}

export async function scoreSvg({ page, score, conventions, prefatory }: ScorePicture): Promise<string> {
  const show = prefatory ? "full" : "names"
  const staves = prefatoryStaves(page, score, { show, ...(conventions.clefs ? { clefs: conventions.clefs } : {}) })
  const voices = score.voices.map(({ label }) => label).join(", ")
  const name = score.title.trim() === "" ? "A score" : score.title
  return engrave(
    { score, conventions },
    {
      prefatory: staves,
      name,
      description: `A score in modern notation; voices: ${voices === "" ? "none" : voices}.`,
    },
  )
}

/** Px of a PNG for each of an SVG. */
const PNG_SCALE = 2

/** On white, twice as large as the SVG is shown. */
export async function scorePng(picture: ScorePicture, tools: Tools): Promise<Uint8Array> {
  return tools.png(await scoreSvg(picture), { scale: PNG_SCALE, ground: "#fff" })
}
