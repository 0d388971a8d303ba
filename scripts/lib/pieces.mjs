// The real pieces that stand outside the project (their licence is not the project's), and where they are looked for.
import { existsSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { inRoot } from "./tools.mjs"

/** What the transcription is known to have otherwise than the print: in one voice a note is longer, and the rest after it is not there. */
const PIECES = [
  { name: "madrigal-a", except: [] },
  { name: "madrigal-b", except: ["note-L210F7", "rest-L211F7"] },
]

/** Name, original notation, transcription and exceptions of each piece that is there; what is missing is told by `skip`. */
export function realPieces(skip = console.warn) {
  const folder = process.env.RESOLUTIO_PIECES ?? inRoot("../shared/pieces")
  return PIECES.flatMap(({ name, except }) => {
    const [mei, modern] = [join(folder, `${name}.mei`), join(folder, `${name}.modern.musicxml`)]
    const missing = [mei, modern].find(file => !existsSync(file))
    if (missing === undefined)
      return [{ name, except, mei: readFileSync(mei, "utf8"), modern: readFileSync(modern, "utf8") }]
    skip(`SKIPPED: ${missing} is not there; set RESOLUTIO_PIECES to the folder that holds it to compare it.`)
    return []
  })
}
