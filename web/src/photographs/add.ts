/** Photographs that come in as files. Loaded with the first of them. */
import { writing, type Page } from "@resolutio/core"
import type { Documents } from "../document/documents.js"
import { words } from "../words/index.js"
import { photographIn } from "./check.js"
import { showPhotograph } from "./photographs.js"
import { keepPicture } from "./pictures.js"

const said = words.photographs

/** One file is added, or what is wrong with it told. `known`: it is the picture of a surface that is known already. */
export async function addPhotograph(documents: Documents, file: File, known: string | undefined): Promise<void> {
  const tell = (what: string, mend: string): void =>
    documents.store.setState({ problems: [{ code: "no-photograph", what, mend, severity: "error" }] })
  const { record } = documents.store.getState()
  if (!record) return tell(said.noPiece.what, said.noPiece.mend)
  const checked = await photographIn(file)
  if (!checked.ok) return tell(checked.what, checked.mend)
  const { page, record: open } = documents.store.getState()
  // another piece was opened meanwhile
  if (open?.id !== record.id) return
  const { picture, width, height } = checked
  const surface = known ?? newSurface(page, file.name, width, height).surface
  // the picture is there before any window looks for it
  const isKept = await keepPicture(documents, surface, picture).then(
    () => true,
    () => false,
  )
  if (!isKept) return tell(said.refused.notKept(file.name).what, said.refused.notKept(file.name).mend)
  if (documents.store.getState().record?.id !== record.id) return
  documents.dismiss()
  const now = documents.store.getState().page
  const old = now.surfaces.find(one => one.id === known)
  if (known === undefined) documents.act(newSurface(now, file.name, width, height).change, said.steps.added(file.name))
  else if (old && !old.box) documents.act(writing.setPhotograph(now, known, { box: [0, 0, width, height] }), file.name)
  showPhotograph({ surface })
  const [left, top, right, bottom] = old?.box ?? [0, 0, width, height]
  const isOther = Math.abs((right - left) * height - (bottom - top) * width) > 0.01 * width * (bottom - top)
  if (isOther) tell(said.otherShape.what, said.otherShape.mend)
}

const newSurface = (page: Page, name: string, width: number, height: number) =>
  writing.addPhotograph(page, { image: name, label: name.replace(/\.[^.]+$/, ""), width, height })
