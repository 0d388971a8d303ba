/** What is open when the window opens: the piece worked on last, or for a new user a demo piece. */
import pieces from "demo:pieces"
import type { Readings } from "../reading/readings.js"
import { carriesPiece, pieceIn } from "../export/link.js"
import { words } from "../words/index.js"
import type { Documents } from "./documents.js"

/** The demo that shows most at once. */
const FIRST = /prolation/

export interface DemoPiece {
  readonly file: string
  readonly title: string
}

export const DEMO_PIECES: readonly DemoPiece[] = pieces

export async function begin(documents: Documents, readings: Readings): Promise<void> {
  if (carriesPiece(location.hash) && (await openLink(documents, readings, location.hash))) return
  await beginWithout(documents, readings)
}

async function beginWithout(documents: Documents, readings: Readings): Promise<void> {
  const [last] = await documents.database.list().catch(() => [])
  if (last && (await documents.open(last.id))) return
  await openDemo(documents, readings, (DEMO_PIECES.find(one => FIRST.test(one.file)) ?? DEMO_PIECES[0])!.file)
}

/** A piece that came in the address becomes one like any other; the address is then that of the window again. */
async function openLink(documents: Documents, readings: Readings, hash: string): Promise<boolean> {
  history.replaceState(null, "", location.pathname + location.search)
  const text = await pieceIn(hash)
  const read = text === undefined ? undefined : await readings.readText("link.figurae", text)
  if (read?.ok) {
    await documents.create(read.page)
    return true
  }
  const problem = { code: "bad-link", ...words.sheets.link.bad, severity: "error" as const }
  await beginWithout(documents, readings)
  documents.store.setState({ problems: [problem] })
  return true
}

/** A demo piece is kept like any other; opened again it is as it was left. */
export async function openDemo(documents: Documents, readings: Readings, file: string): Promise<void> {
  const id = `demo ${file}`
  if (await documents.open(id).catch(() => false)) return
  const text = (await pieces.find(one => one.file === file)?.text()) ?? ""
  const read = await readings.readText(file, text)
  if (read.ok) await documents.create(read.page, { id, file, demo: true })
}
