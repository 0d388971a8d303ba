/** Acts of the photograph beside the page. */
import type { App } from "../app.js"
import { addPhotographs, boxToBegin, makeRegion, shownNow, showPhotograph } from "../photographs/photographs.js"
import { regionAt } from "../photographs/regions-known.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"
import type { Act } from "./acts.js"

export function photographActs({ documents }: Pick<App, "documents">): Act[] {
  const said = words.photographs
  const page = () => documents.store.getState().page
  const none = (): boolean => page().surfaces.length === 0
  const act = (id: string, shown: string, key: string | undefined, run: () => void, isOff?: () => boolean): Act => ({
    id,
    group: "write",
    words: shown,
    ...(key === undefined ? {} : { key }),
    ...(isOff ? { isOff } : {}),
    run,
  })
  const shownSurface = (): string | undefined => {
    const { surfaces, zones } = page()
    const { surface } = shownNow()
    const holding = zones.find(one => one.id === regionAt(page(), view.getState().selected))?.surface
    return surfaces.some(one => one.id === surface) ? surface : (holding ?? surfaces[0]?.id)
  }
  const turn = (by: 1 | -1): void => {
    const { surfaces } = page()
    const next = surfaces[surfaces.findIndex(one => one.id === shownSurface()) + by]
    if (next) showPhotograph({ surface: next.id })
  }
  const region = (): void => {
    const surface = shownSurface()
    if (surface === undefined) return
    showPhotograph({ surface })
    const zone = makeRegion(documents, surface, boxToBegin(page(), surface))
    if (zone !== undefined) showPhotograph({ region: zone })
  }
  return [
    act("photograph", said.name, "i", () => {
      if (view.getState().photograph) view.setState({ photograph: undefined })
      else showPhotograph({})
    }),
    act("addPhotograph", said.add, undefined, () => choose(files => void addPhotographs(documents, files))),
    act("photographPlace", said.place, undefined, () => showPhotograph({ under: !shownNow().under }), none),
    act("region", said.region, "Shift+Enter", region, none),
    act("folioAfter", said.after, "]", () => turn(1), none),
    act("folioBefore", said.before, "[", () => turn(-1), none),
  ]
}

/** The browser's own way to choose files. */
function choose(take: (files: readonly File[]) => void): void {
  const field = document.createElement("input")
  field.type = "file"
  field.multiple = true
  field.accept = words.photographs.accept
  field.addEventListener("change", () => take([...(field.files ?? [])]))
  field.click()
}
