import { useEffect, useState } from "react"
import { useApp } from "../app.js"
import { linkTo, LONGEST_LINK } from "../export/link.js"
import { exportWords } from "../words/export.js"

const said = exportWords

/** The address that carries the piece. */
export function ExportLink() {
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
