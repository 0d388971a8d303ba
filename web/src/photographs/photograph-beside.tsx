import { useEffect, useRef } from "react"
import { useStore } from "zustand"
import type { writing } from "@resolutio/core"
import { useApp, useReading, useView } from "../app.js"
import { ActButton } from "../parts/act-button.js"
import { words } from "../words/index.js"
import { addPhotographs, shownNow, showPhotograph } from "./photographs.js"
import { findPicture, pictures } from "./pictures.js"
import { regionAt } from "./regions-known.js"
import { Sheet } from "./sheet.js"

const said = words.photographs
const STARTS: readonly writing.RegionStart[] = ["line", "voice", "sign", "new-line"]
const ZOOMS = [0.5, 0.75, 1, 1.5, 2, 3, 4]

/** The photograph of the source, beside the staves or under them. */
export function PhotographBeside() {
  const surfaces = useReading(state => state.page.surfaces)
  const surface = useShownSurface()
  const isUnder = useView(state => state.photograph?.under)
  const { documents } = useApp()
  useEffect(() => {
    if (surface !== undefined) void findPicture(documents, surface)
  }, [documents, surface])
  return (
    <section className="photograph" aria-label={said.name}>
      <div className="photograph-line" role="toolbar" aria-label={said.name}>
        {surfaces.length > 1 && <Folios shown={surface} />}
        <ActButton id="addPhotograph" />
        {surface !== undefined && <ActButton id="photographPlace" say={isUnder ? said.layBeside : said.layUnder} />}
        {surface !== undefined && <Zooms />}
      </div>
      {surface === undefined ? (
        <p className="sentence">{said.none}</p>
      ) : (
        <>
          <Starts />
          <Seen surface={surface} />
        </>
      )}
    </section>
  )
}

/** The photograph in which the selected sign stands; else the one that was chosen, else the first. */
function useShownSurface(): string | undefined {
  const page = useReading(state => state.page)
  const selected = useView(state => state.selected)
  const chosen = useView(state => state.photograph?.surface)
  const region = regionAt(page, selected)
  const holding = page.zones.find(one => one.id === region)?.surface
  const last = useRef(selected)
  useEffect(() => {
    // only going to another sign turns the folio: whoever turns it by hand may look at it
    if (last.current === selected) return
    last.current = selected
    if (holding !== undefined) showSurface(holding)
  }, [selected, holding])
  return page.surfaces.some(one => one.id === chosen) ? chosen : (holding ?? page.surfaces[0]?.id)
}

const showSurface = (surface: string): void => {
  if (shownNow().surface !== surface) showPhotograph({ surface })
}

function Folios({ shown }: { readonly shown: string | undefined }) {
  const surfaces = useReading(state => state.page.surfaces)
  return surfaces.map(({ id, label }, i) => (
    <button
      key={id}
      type="button"
      className="act"
      aria-pressed={id === shown}
      onClick={() => showPhotograph({ surface: id })}
    >
      {label ?? said.unnamed(i + 1)}
    </button>
  ))
}

function Zooms() {
  const zoom = useView(state => state.photograph?.zoom ?? 1)
  const by = (step: 1 | -1): void => {
    const next = ZOOMS[ZOOMS.indexOf(zoom) + step]
    if (next !== undefined) showPhotograph({ zoom: next })
  }
  return (
    <>
      <button type="button" className="act" onClick={() => by(1)}>
        {said.larger}
      </button>
      <button type="button" className="act" onClick={() => by(-1)}>
        {said.smaller}
      </button>
    </>
  )
}

/** For what the next region is. */
function Starts() {
  const start = useView(state => state.photograph?.start)
  return (
    <div className="photograph-line">
      <label>
        {said.regionFor}{" "}
        <select value={start} onChange={({ target }) => showPhotograph({ start: target.value as writing.RegionStart })}>
          {STARTS.map(one => (
            <option key={one} value={one}>
              {said.starts[one]}
            </option>
          ))}
        </select>
      </label>
      <ActButton id="region" />
      <p className="quiet">{said.how}</p>
    </div>
  )
}

function Seen({ surface: id }: { readonly surface: string }) {
  const { documents } = useApp()
  const surface = useReading(state => state.page.surfaces.find(one => one.id === id))
  const address = useStore(pictures, state => state.addresses.get(id))
  const field = useRef<HTMLInputElement>(null)
  if (!surface) return null
  const name = surface.label ?? surface.image ?? id
  return (
    <>
      {address === null && (
        <p className="photograph-line">
          <span>{said.missing(surface.image ?? name)}</span>
          <button type="button" className="act" onClick={() => field.current?.click()}>
            {said.choose}
          </button>
          <input
            ref={field}
            type="file"
            hidden
            aria-label={said.choose}
            accept={said.accept}
            onChange={({ target }) => {
              void addPhotographs(documents, [...(target.files ?? [])].slice(0, 1), id)
              target.value = ""
            }}
          />
        </p>
      )}
      <Sheet surface={surface} address={address ?? undefined} name={name} />
    </>
  )
}
