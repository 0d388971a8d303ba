import { FICTA_GRADES, type FictaGrade, type SignId } from "@resolutio/core"
import { useEffect, useRef } from "react"
import { showUpTo } from "../../acts/accidentals.js"
import { useApp, useView } from "../../app.js"
import { ActButton } from "../../parts/act-button.js"
import { Options } from "../../parts/options.js"
import { useAnswer } from "../../parts/use-answer.js"
import type { AccidentalsTold, ProposedTold } from "../../reading/told-chapters.js"
import { lookAt } from "../../view/view.js"
import { chapterWords } from "../../words/chapters.js"
import { words } from "../../words/index.js"

const said = chapterWords.accidentals

/** Accidentals that the page does not write and the intervals ask for: gone through, accepted, refused. */
export function AccidentalsChapter() {
  const { readings } = useApp()
  const { answer } = useAnswer(() => readings.accidentals())
  if (!answer) return <p className="quiet">{said.looking}</p>
  return (
    <div className="accidentals">
      <p className="sentence" role="status">
        {answer.summary}
      </p>
      <div className="row">
        {answer.proposals.length > 0 && (
          <>
            <ActButton id="next" say={said.next} />
            <ActButton id="accept" />
            <ActButton id="refuse" />
            <Alike proposals={answer.proposals} />
          </>
        )}
        <InTheEdition />
      </div>
      <Proposals proposals={answer.proposals} />
      <Open open={answer.open} />
      <Decided decided={answer.decided} />
    </div>
  )
}

/** What is proposed in the same voice for the same reason is decided at once. */
function Alike({ proposals }: { readonly proposals: readonly ProposedTold[] }) {
  const selected = useView(state => state.selected)
  const alike = proposals.find(one => one.sign === selected)?.alike.length ?? 0
  if (alike < 2) return null
  return (
    <>
      <ActButton id="acceptAlike" say={said.acceptAlike(alike)} />
      <ActButton id="refuseAlike" say={said.refuseAlike(alike)} />
    </>
  )
}

function InTheEdition() {
  const shown = useView(state => state.accidentals)
  return (
    <label>
      {said.inTheEdition}{" "}
      <select
        value={shown ?? ""}
        onChange={({ target }) => showUpTo(target.value === "" ? undefined : (target.value as FictaGrade))}
      >
        <option value="">{said.shown.none}</option>
        <Options values={FICTA_GRADES.map(grade => [grade, said.shown[grade]])} />
      </select>
    </label>
  )
}

function Proposals({ proposals }: { readonly proposals: readonly ProposedTold[] }) {
  const selected = useView(state => state.selected)
  const list = useRef<HTMLUListElement>(null)
  const hadKeys = useRef(false)
  useEffect(() => {
    const current = list.current?.querySelector<HTMLElement>("[aria-current=true]")
    if (current) showWithin(current)
    // the one that had the keys was decided and is gone: the next has them
    if (hadKeys.current && document.activeElement === document.body) current?.focus({ preventScroll: true })
    hadKeys.current = list.current?.contains(document.activeElement) ?? false
  }, [proposals, selected])
  return (
    <ul className="matters" ref={list} onFocus={() => (hadKeys.current = true)}>
      {proposals.map(one => (
        <li key={one.sign}>
          <button
            type="button"
            className="matter line-act"
            aria-current={one.sign === selected}
            onClick={() => lookAt(one.sign)}
            // what the keys are on is what is decided
            onFocus={() => lookAt(one.sign)}
          >
            <span className="matter-kind">{said.grades[one.grade]}</span>
            <span>
              <b>{one.place}</b> {one.sung}. {one.reason} <span className="quiet">{one.source}.</span>
            </span>
          </button>
        </li>
      ))}
    </ul>
  )
}

/** Scrolls the chapter alone: the music above it stays where it is. */
function showWithin(item: HTMLElement): void {
  const chapter = item.closest(".chapter")
  if (!chapter) return
  const [own, seen] = [item.getBoundingClientRect(), chapter.getBoundingClientRect()]
  if (own.top < seen.top) chapter.scrollTop += own.top - seen.top
  else if (own.bottom > seen.bottom) chapter.scrollTop += own.bottom - seen.bottom
}

function Open({ open }: Pick<AccidentalsTold, "open">) {
  if (open.length === 0) return null
  return (
    <>
      <h3 className="sentence">{said.open}</h3>
      <ul className="matters">
        {open.map(({ sign, place, reason }) => (
          <li key={`${sign} ${reason}`}>
            <PlaceLine sign={sign} place={place}>
              {reason}
            </PlaceLine>
          </li>
        ))}
      </ul>
    </>
  )
}

function PlaceLine({
  sign,
  place,
  children,
}: {
  readonly sign: SignId
  readonly place: string
  readonly children: string
}) {
  return (
    <button type="button" className="line-act" onClick={() => lookAt(sign)}>
      <b>{place}</b> {children}
    </button>
  )
}

function Decided({ decided }: Pick<AccidentalsTold, "decided">) {
  const { documents } = useApp()
  if (decided.length === 0) return null
  const takeBack = (decision: SignId, place: string): void =>
    void documents.act({ kind: "delete-decision", decision }, words.steps.undecided(place))
  return (
    <>
      <h3 className="sentence">{said.decided}</h3>
      <ul>
        {decided.map(({ decision, sign, place, words: text, reason }) => (
          <li key={decision} className="proposed">
            <PlaceLine sign={sign} place={place}>
              {said.because(text, reason)}
            </PlaceLine>{" "}
            <button type="button" className="line-act inline" onClick={() => takeBack(decision, place)}>
              {words.decide.takeBack}
            </button>
          </li>
        ))}
      </ul>
    </>
  )
}
