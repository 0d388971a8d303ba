import { useState } from "react"
import { useApp, useReading } from "../../app.js"
import type { EmendationTold, MendingTold } from "../../reading/told-chapters.js"
import { lookAt, view } from "../../view/view.js"
import { chapterWords } from "../../words/chapters.js"

const said = chapterWords.matters

const NONE: { readonly emendations: undefined; readonly fits: false } = { emendations: undefined, fits: false }

/** Slips of the pen: looked for when asked, shown with what would mend them, made with a trace. */
export function Mending() {
  const { readings, documents } = useApp()
  const progress = useReading(state => state.progress ?? 0)
  const revision = useReading(state => state.revision)
  const [state, setState] = useState<"idle" | "looking" | { readonly of: number; readonly found: MendingTold }>("idle")
  const [made, setMade] = useState("")
  const look = async (): Promise<void> => {
    setState("looking")
    setMade("")
    const found = await readings.mending().catch(() => undefined)
    setState(found ? { of: readings.store.getState().revision, found } : "idle")
  }
  const make = ({ change, place, report }: EmendationTold): void => {
    if (!documents.act(change, said.mended(place))) return
    setState("idle")
    setMade(said.made(report))
  }
  if (state === "looking")
    return (
      <div className="mending">
        <p role="status">{said.looking(progress)}</p>
        <button type="button" className="act" onClick={() => readings.stopMending()}>
          {said.stop}
        </button>
      </div>
    )
  const { emendations: found, fits } = state !== "idle" && state.of === revision ? state.found : NONE
  return (
    <div className="mending">
      {made !== "" && <p role="status">{made}</p>}
      {found ? (
        <>
          {found.length === 0 && <p>{fits ? said.noSlips : said.noMending}</p>}
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
