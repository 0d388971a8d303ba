import { useEffect, useRef, useState, type RefObject } from "react"
import type { Page } from "@resolutio/core"
import { useApp, useReading, useView } from "../../app.js"
import type { EmendationTold, MendingTold } from "../../reading/told-chapters.js"
import { lookAt, view } from "../../view/view.js"
import { chapterWords } from "../../words/chapters.js"

const said = chapterWords.matters

/** What was found in a page: whoever supposes one change and comes back goes on to the next without a new search. */
const known = new WeakMap<Page, MendingTold>()

/** Slips of the pen: looked for when asked, shown with what would mend them, made with a trace. */
export function Mending() {
  const { readings, documents } = useApp()
  const progress = useReading(state => state.progress ?? 0)
  const page = useReading(state => state.page)
  const [state, setState] = useState<"idle" | "looking" | "found">("idle")
  const [made, setMade] = useState("")
  const begin = useView(one => one.slips === true)
  const [place, keepFocus] = useKeptFocus(state)
  const look = async (fromElsewhere = false): Promise<void> => {
    keepFocus(fromElsewhere)
    setState("looking")
    setMade("")
    const found = await readings.mending().catch(() => undefined)
    keepFocus()
    if (found) known.set(page, found)
    setState(found ? "found" : "idle")
  }
  const make = ({ change, place, report }: EmendationTold): void => {
    keepFocus()
    if (!documents.act(change, said.mended(place))) return
    setState("idle")
    setMade(said.made(report))
  }
  useEffect(() => {
    if (!begin) return
    view.setState({ slips: undefined })
    if (state !== "looking") void look(true)
  })
  if (state === "looking")
    return (
      <div className="mending" ref={place}>
        <p role="status">{said.looking(progress)}</p>
        <button type="button" className="act" onClick={() => readings.stopMending()}>
          {said.stop}
        </button>
      </div>
    )
  const { emendations: found, fits } = known.get(page) ?? {}
  return (
    <div className="mending" ref={place}>
      {made !== "" && <p role="status">{made}</p>}
      {found ? (
        <>
          <p role="status">{found.length > 0 ? said.proposed(found.length) : fits ? said.noSlips : said.noMending}</p>
          <ul>
            {found.map(one => (
              <Proposed key={`${one.place} ${one.after}`} emendation={one} onMake={() => make(one)} />
            ))}
          </ul>
        </>
      ) : (
        <>
          <button type="button" className="act" onClick={() => void look()}>
            {said.mending}
          </button>
          <p className="quiet">{said.mendingHow}</p>
        </>
      )}
    </div>
  )
}

/**
 * What was pressed goes with what it did: whoever stood there with keys stands on the first act of what has come, not at the
 * beginning of the window. Call it before the change.
 */
function useKeptFocus(state: unknown): [RefObject<HTMLDivElement | null>, (fromElsewhere?: boolean) => void] {
  const place = useRef<HTMLDivElement>(null)
  const isKept = useRef(false)
  useEffect(() => {
    if (!isKept.current) return
    isKept.current = false
    place.current?.querySelector("button")?.focus()
  }, [state])
  const keep = (fromElsewhere = false): void => {
    isKept.current = fromElsewhere || place.current?.contains(document.activeElement) === true
  }
  return [place, keep]
}

function Proposed({ emendation, onMake }: { readonly emendation: EmendationTold; readonly onMake: () => void }) {
  const { sign, place, before, after, why, score, step, change } = emendation
  const suppose = (): void => {
    lookAt(sign)
    view.setState({ chapter: "reason", asking: "supposing", supposed: { change, words: `${place}: ${after}` } })
  }
  return (
    <li className="proposed">
      <button type="button" className="line-act" onClick={() => lookAt(sign)}>
        <b>{place}</b> {said.became(before, after)}
      </button>
      <p className="quiet">
        {why} {said.likely(score)}
        {step > 1 && `, ${said.later}`}.
      </p>
      <span className="row">
        <button type="button" className="line-act inline" onClick={suppose}>
          {said.try}
        </button>
        <button type="button" className="line-act inline" onClick={onMake}>
          {said.make}
        </button>
      </span>
    </li>
  )
}
