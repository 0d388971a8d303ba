import { useReading, useView } from "../../app.js"
import type { Matter } from "../../reading/messages.js"
import { words } from "../../words/index.js"
import { lookAt } from "../../view/view.js"
import { chapterWords } from "../../words/chapters.js"
import { Mending } from "./mending.js"

/** All that asks for a second look, in the order of time. */
export function MattersChapter() {
  const summary = useReading(state => state.summary)
  if (!summary) return <p className="quiet">{words.status.reading}</p>
  return (
    <>
      {summary.matters.length === 0 && <p className="sentence">{chapterWords.matters.none}</p>}
      <MatterList matters={summary.matters} />
      <Mending />
    </>
  )
}

function MatterList({ matters }: { readonly matters: readonly Matter[] }) {
  return (
    <ul className="matters">
      {matters.map((matter, i) => (
        <li key={i}>
          <MatterLine matter={matter} />
        </li>
      ))}
    </ul>
  )
}

function MatterLine({ matter }: { readonly matter: Matter }) {
  const selected = useView(state => state.selected)
  const { kind, place, what, mend, sign } = matter
  const content = (
    <>
      <span className="matter-kind">{chapterWords.matters.kinds[kind]}</span>
      <span>
        <b>{place}</b> {what} <span className="quiet">{mend}</span>
      </span>
    </>
  )
  if (sign === undefined) return <p className="matter">{content}</p>
  return (
    <button type="button" className="matter line-act" aria-current={sign === selected} onClick={() => lookAt(sign)}>
      {content}
    </button>
  )
}
