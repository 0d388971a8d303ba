/** What can be done with photographs: each is one act of the piece. */
import { writing, type Page, type SignId } from "@resolutio/core"
import type { Documents } from "../document/documents.js"
import { flatOf, voiceOf } from "../document/index-signs.js"
import { select, view, type PhotographShown } from "../view/view.js"
import { words } from "../words/index.js"

const said = words.photographs
const USUAL: PhotographShown = { under: false, zoom: 1, start: "line" }

export const shownNow = (): PhotographShown => view.getState().photograph ?? USUAL

export function showPhotograph(more: Partial<PhotographShown>): void {
  const { open } = view.getState()
  view.setState({
    photograph: { ...shownNow(), ...more },
    open: open.includes("page") ? open : [...open.slice(-1), "page"],
    sheet: undefined,
  })
}

/** Files that are photographs are added; what is none is told. `surface`: it is the picture of one that is known already. */
export async function addPhotographs(documents: Documents, files: readonly File[], surface?: string): Promise<void> {
  const { addPhotograph } = await import("./add.js")
  for (const file of files) await addPhotograph(documents, file, surface)
}

/** For the selected sign, else for the voice that is written in, in the way that is chosen. */
export function makeRegion(documents: Documents, surface: string, box: writing.RegionBox): string | undefined {
  const { page } = documents.store.getState()
  const { selected, writing: now } = view.getState()
  const voice =
    (selected && voiceOf(page, selected)) ?? page.voices.find(one => one.id === now?.voice) ?? page.voices[0]
  if (!voice) return undefined
  const sign: SignId | undefined = selected && voiceOf(page, selected) === voice ? selected : undefined
  const { start } = shownNow()
  const wanted = { surface, box, start, voice: voice.id, ...(sign === undefined ? {} : { sign }) }
  const given = writing.giveRegion(page, wanted)
  if (!given || !documents.act(given.change, said.steps.region(said.starts[start], voice.label || voice.n)))
    return undefined
  if (given.select !== undefined) select(given.select)
  return given.zone
}

/** Where a region made with a key lies first: under the last one of this photograph, else over its upper part. */
export function boxToBegin({ surfaces, zones }: Page, surface: string): writing.RegionBox {
  const [left, top, right, bottom] = sidesOf(
    surfaces.find(one => one.id === surface),
    zones,
  )
  const last = zones.findLast(one => one.surface === surface)
  if (!last)
    return [left + (right - left) * 0.05, top + (bottom - top) * 0.05, right * 0.95, top + (bottom - top) * 0.2]
  const height = last.box[3] - last.box[1]
  const down = Math.min(last.box[3], bottom - height)
  return [last.box[0], down, last.box[2], down + height]
}

/** A file may not say how large its photograph is; then it is at least as large as its regions reach. */
export function sidesOf(surface: Page["surfaces"][number] | undefined, zones: Page["zones"]): writing.RegionBox {
  const { box } = surface ?? {}
  if (box && box[2] > box[0] && box[3] > box[1]) return box
  const own = zones.filter(one => one.surface === surface?.id)
  const reach = (side: 2 | 3): number => Math.max(1000, ...own.map(({ box }) => box[side]))
  return [0, 0, reach(2), reach(3)]
}

/** Number of a sign among those of its voice, from 1. */
export const numberIn = (page: Page, sign: SignId): number => {
  const voice = voiceOf(page, sign)
  return voice ? flatOf(voice).findIndex(one => one.sign.id === sign) + 1 : 0
}
