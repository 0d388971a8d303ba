import type { ReactNode } from "react"
import { useApp, useView } from "../app.js"
import { keyShown } from "../acts/acts.js"
import { words } from "../words/index.js"
import type { BandName } from "../view/view.js"

/** A band across the window: open, or folded to a line that says what is in it. */
export function Band({ band, children }: { readonly band: BandName; readonly children: () => ReactNode }) {
  const open = useView(state => state.open)
  const alone = useView(state => state.alone)
  const isOpen = open.includes(band)
  if (alone && open.at(-1) !== band) return null
  const { name, folded } = words.bands[band]
  return (
    <section className={`band ${band} ${isOpen ? "open" : "folded"}`} aria-label={name}>
      <BandName band={band} isOpen={isOpen} />
      {isOpen ? children() : <p className="quiet">{folded}</p>}
    </section>
  )
}

function BandName({ band, isOpen }: { readonly band: BandName; readonly isOpen: boolean }) {
  const act = useApp().acts.find(band)
  const { name } = words.bands[band]
  return (
    <div className="gutter">
      <h2>
        <button
          type="button"
          className="name"
          aria-expanded={isOpen}
          aria-keyshortcuts={act.key}
          title={isOpen ? words.bands.fold(name) : words.bands.unfold(name)}
          onClick={act.run}
        >
          {name}
          <kbd aria-hidden="true">{keyShown(act.key!)}</kbd>
        </button>
      </h2>
    </div>
  )
}
