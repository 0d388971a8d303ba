import { useEffect, useRef, useState } from "react"
import { useApp } from "../../app.js"
import { words } from "../../words/index.js"

/** The page's text, in an editor that is loaded when it is first wanted. */
export function TextBeside() {
  const { documents } = useApp()
  const place = useRef<HTMLDivElement>(null)
  const [faults, setFaults] = useState(0)
  useEffect(() => {
    let gone = false
    let end = (): void => {}
    const begin = async (): Promise<void> => {
      const { openText } = await import("../../text/session.js")
      if (!gone && place.current) end = openText(place.current, documents, setFaults)
    }
    void begin()
    return () => {
      gone = true
      end()
    }
  }, [documents])
  return (
    <div className="text-beside">
      <div ref={place} className="text-place" />
      {faults > 0 && (
        <p className="quiet" role="status">
          {words.writing.textFaults(faults)}
        </p>
      )}
    </div>
  )
}
