import { useEffect, useRef, useState } from "react"
import { useApp } from "../app.js"
import { FORMATS, type FormatName } from "../export/formats-offered.js"
import { linkTo, LONGEST_LINK } from "../export/link.js"
import { fileName, making, save, type Making } from "../export/maker.js"
import { words } from "../words/index.js"
import { SheetFrame, SheetPart } from "./sheet.js"

const said = words.sheets.export
const NAMES = Object.keys(FORMATS) as FormatName[]

/** Files of the piece, and the address that carries it. */
export function ExportSheet() {
  return (
    <SheetFrame title={said.title}>
      <SheetPart name={said.files}>
        <Files />
      </SheetPart>
      <SheetPart name={said.link}>
        <Link />
      </SheetPart>
    </SheetFrame>
  )
}

function Files() {
  const { documents } = useApp()
  const [told, setTold] = useState<readonly string[]>([])
  const [running, setRunning] = useState<FormatName>()
  const now = useRef<Making>(undefined)
  useEffect(() => () => now.current?.end(), [])
  const end = (): void => {
    now.current?.end()
    now.current = undefined
    setRunning(undefined)
  }
  const make = async (name: FormatName): Promise<void> => {
    end()
    const { page, base } = documents.store.getState()
    const job = making(name, { page, ...(base?.mei === undefined ? {} : { mei: base.mei }) })
    now.current = job
    setRunning(name)
    setTold([])
    try {
      const { content, losses } = await job.made
      const { ending, type } = FORMATS[name]
      save(content, fileName(page.title) + ending, type)
      setTold([said.saved(fileName(page.title) + ending), ...losses])
    } catch (error) {
      setTold([said.failed(error instanceof Error ? error.message : String(error))])
    } finally {
      if (now.current === job) setRunning(undefined)
    }
  }
  return (
    <>
      <ul className="pieces">
        {NAMES.map((name, i) => (
          <li key={name}>
            <button type="button" className="act" data-first={i === 0 ? "" : undefined} onClick={() => void make(name)}>
              {said.formats[name]}
            </button>
          </li>
        ))}
      </ul>
      {running && (
        <p className="quiet" role="status">
          {said.making(said.formats[running])}{" "}
          <button type="button" className="act" onClick={end}>
            {said.cancel}
          </button>
        </p>
      )}
      {told.length > 0 && (
        <div role="status">
          {told.map(sentence => (
            <p key={sentence} className="quiet">
              {sentence}
            </p>
          ))}
        </div>
      )}
    </>
  )
}

function Link() {
  const { documents } = useApp()
  const [link, setLink] = useState<string | null>()
  useEffect(() => {
    let gone = false
    const find = async (): Promise<void> => {
      const found = await linkTo(documents.store.getState().page)
      if (!gone) setLink(found ?? null)
    }
    void find()
    return () => {
      gone = true
    }
  }, [documents])
  if (link === undefined) return null
  if (link === null) return <p className="quiet">{said.tooLong(LONGEST_LINK)}</p>
  return (
    <>
      <input
        className="wide"
        type="text"
        readOnly
        aria-label={said.link}
        value={link}
        onFocus={event => event.target.select()}
      />
      <p className="quiet">{said.linkHow}</p>
    </>
  )
}
