import type { SignId } from "@resolutio/core"
import { useApp, useDocument, useView } from "../../app.js"
import { ActButton } from "../../parts/act-button.js"
import { later } from "../../parts/later.js"
import type { Told } from "../../reading/tell.js"
import { select } from "../../view/view.js"
import { words } from "../../words/index.js"
import { canDecide } from "./can-decide.js"
import { useTold } from "./use-told.js"

const Supposing = later(() => import("./supposing.js").then(one => one.Supposing))
const SupposingPractice = later(() => import("./supposing-practice.js").then(one => one.SupposingPractice))
const Deciding = later(() => import("./deciding.js").then(one => one.Deciding))

/** Why the selected sign lasts as long as it does. */
export function ReasonChapter() {
  const selected = useView(state => state.selected)
  const asking = useView(state => state.asking)
  const isOpen = useDocument(state => state.record !== undefined)
  const { told, alone } = useTold(selected)
  // nothing can be told of a sign that is supposed to be gone
  if (isOpen && asking === "supposing" && selected !== undefined) return <Supposing sign={selected} />
  if (isOpen && asking === "practices") return <SupposingPractice />
  if (!isOpen) return <p className="sentence">{words.status.nothing}</p>
  if (!told)
    return (
      <div>
        <p className="title">{words.reason.start}</p>
        <p className="sentence">{words.reason.startHow}</p>
        <div className="row">
          <ActButton id="walk" />
          <ActButton id="supposePractice" />
        </div>
      </div>
    )
  if (asking === "deciding" && canDecide(told)) return <Deciding key={told.sign} told={told} />
  return (
    <div className="reason">
      <ReasonTold told={told} alone={alone} />
      <div className="choices">
        <ActButton id="suppose" framed />
        {canDecide(told) && <ActButton id="decide" framed />}
      </div>
    </div>
  )
}

function ReasonTold({ told, alone }: { readonly told: Told; readonly alone: boolean }) {
  const { reason } = words
  return (
    <div className="told">
      <div aria-live="polite">
        <h3 className="title headline">{told.headline}</h3>
        <p className="sentence">
          {told.sentence} {told.otherwise}
        </p>
      </div>
      {told.source !== "" && <p className="source">{told.source}</p>}
      <p className="source">
        ¶ {told.place}. {told.decidedBy && (alone ? reason.alone : reason.decidedBy[told.decidedBy])}
      </p>
      <Causes told={told} />
      {told.also.map(sentence => (
        <p key={sentence} className="source">
          {reason.also}: {sentence}
        </p>
      ))}
      <Rivals told={told} />
      <Decisions told={told} />
    </div>
  )
}

/** Each can be gone to. */
function Causes({ told }: { readonly told: Told }) {
  if (told.because.length === 0) return null
  return (
    <p className="source">
      {words.reason.because}{" "}
      {told.because.map(({ sign, place }) => (
        <button key={sign} type="button" className="line-act inline" onClick={() => select(sign)}>
          {place}
        </button>
      ))}
    </p>
  )
}

function Rivals({ told }: { readonly told: Told }) {
  const { reason } = words
  if (told.rivals.length === 0) return null
  return (
    <details className="source">
      <summary>{reason.rivals(told.rivals.map(one => one.count).join(", "))}</summary>
      <ul>
        {told.rivals.map(({ count, why, chance }) => (
          <li key={`${count} ${why}`}>
            <b>{count}</b> ({reason.chance(chance)}). {why}
          </li>
        ))}
      </ul>
    </details>
  )
}

function Decisions({ told }: { readonly told: Told }) {
  const { documents } = useApp()
  const takeBack = (decision: SignId): void =>
    void documents.act({ kind: "delete-decision", decision }, words.steps.undecided(told.place))
  return told.decisions.map(({ id, words: text, reason }) => (
    <p key={id} className="decision">
      <Seal /> {words.decide.made}: {text}
      {reason === "" ? "." : ` (${reason}).`}{" "}
      <button type="button" className="line-act inline" onClick={() => takeBack(id)}>
        {words.decide.takeBack}
      </button>
    </p>
  ))
}

/** As at the end of a band that was decided. */
function Seal() {
  return (
    <svg className="seal-sign" width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
      <path d="M9,1.5L16.5,9L9,16.5L1.5,9ZM1.5,9H16.5" fill="none" stroke="currentColor" strokeWidth="1.75" />
    </svg>
  )
}
