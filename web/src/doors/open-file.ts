/** Files that come in. Whatever they hold, they are read as text by the core and never run. */
import type { Documents } from "../document/documents.js"
import type { Readings } from "../reading/readings.js"
import { addPhotographs } from "../photographs/photographs.js"
import { passesForPicture } from "../photographs/passes.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"

/** Larger files hold more than a piece. */
const MOST = 40_000_000

export async function openFile(file: File, documents: Documents, readings: Readings): Promise<void> {
  if (passesForPicture(file)) return addPhotographs(documents, [file])
  const { open } = words.sheets
  const told = (what: string, mend: string): void =>
    documents.store.setState({ problems: [{ code: "not-opened", what, mend, severity: "error" }] })
  if (file.size > MOST) {
    const { what, mend } = open.tooLarge(file.name)
    return told(what, mend)
  }
  view.setState({ said: open.reading(file.name) })
  try {
    const read = await readings.readText(file.name, await file.text())
    if (!read.ok) {
      const [first] = read.problems
      return told(first?.what ?? file.name, first?.mend ?? "")
    }
    await documents.create(read.page, { file: file.name, ...(read.mei === undefined ? {} : { mei: read.mei }) })
    view.setState({ selected: undefined, sheet: undefined })
    if (read.problems.length > 0) documents.store.setState({ problems: read.problems })
  } finally {
    view.setState({ said: undefined })
  }
}
