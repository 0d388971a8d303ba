import { useDocument, useView } from "../../app.js"
import { ActButton } from "../../parts/act-button.js"
import type { Told } from "../../reading/tell.js"
import { words } from "../../words/index.js"
import { useTold } from "./use-told.js"

/** Why the selected sign lasts as long as it does. */
export function ReasonChapter() {
  const selected = useView(state => state.selected)
  const isOpen = useDocument(state => state.record !== undefined)
  const { told, alone } = useTold(selected)
  if (!isOpen) return <p className="sentence">{words.status.nothing}</p>
  if (!told)
    return (
      <div>
        <p className="title">{words.reason.start}</p>
        <p className="sentence">{words.reason.startHow}</p>
      </div>
    )
  return (
    <div className="reason">
      <ReasonTold told={told} alone={alone} />
      <div className="choices">
        <ActButton id="suppose" framed />
        <ActButton id="decide" framed />
      </div>
    </div>
  )
}

function ReasonTold({ told, alone }: { readonly told: Told; readonly alone: boolean }) {
  const { reason } = words
  return (
    <div className="told" aria-live="polite">
      <h3 className="title headline">{told.headline}</h3>
      <p className="sentence">
        {told.sentence} {told.otherwise}
      </p>
      {told.source !== "" && <p className="source">{told.source}</p>}
      <p className="source">
        ¶ {told.place}. {alone ? reason.alone : reason.decidedBy[told.decidedBy]}
      </p>
    </div>
  )
}
