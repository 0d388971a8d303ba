import {
  decisionsForRival,
  idGiver,
  markAfter,
  personNamed,
  puttingDecision,
  timeFromText,
  type DecidedDot,
  type Decision,
  type Page,
  type PageChange,
} from "@resolutio/core"
import { useState, type FormEvent } from "react"
import { useApp, useDocument } from "../../app.js"
import { signOf } from "../../document/index-signs.js"
import { editorName, keepEditorName } from "../../keep/editor-name.js"
import { ActButton } from "../../parts/act-button.js"
import { Field } from "../../parts/field.js"
import { useKeysFirst } from "../../parts/use-keys-first.js"
import type { Told } from "../../reading/tell.js"
import { view } from "../../view/view.js"
import { words } from "../../words/index.js"

const said = words.decide
type As = Pick<Decision, "who" | "why">

/** What is to be chosen, in words, and the decisions that it is. */
interface Choice {
  readonly id: string
  readonly words: string
  readonly why?: string
  readonly decisions: (nextId: () => Decision["id"], as: As) => Decision[] | undefined
}

/** How a sign is to be read, decided by whoever sits here, with a reason. */
export function Deciding({ told }: { readonly told: Told }) {
  const { documents } = useApp()
  const page = useDocument(state => state.page)
  const [chosen, setChosen] = useState("")
  const [length, setLength] = useState("")
  const [problem, setProblem] = useState("")
  const choices = choicesOf(page, told, length)
  const first = useKeysFirst<HTMLFormElement>()
  const decide = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const form = event.currentTarget
    const data = new FormData(form)
    const change = changeFor(
      page,
      choices.find(one => one.id === chosen),
      textOf(data, "who"),
      textOf(data, "why"),
    )
    if (!change) {
      // where it is mended
      form.querySelector<HTMLInputElement>("input.short")?.focus()
      return setProblem(chosen === "other" ? said.noDuration(length) : "")
    }
    keepEditorName(textOf(data, "who"))
    if (documents.act(change, words.steps.decided(told.place))) view.setState({ asking: undefined })
  }
  return (
    <form className="deciding" ref={first} onSubmit={decide}>
      <fieldset>
        <legend className="title headline">
          {said.title}: {told.place}
        </legend>
        {choices.map(({ id, words: text, why }) => (
          <label key={id} className="tick">
            <input
              type="radio"
              name="choice"
              value={id}
              checked={chosen === id}
              onChange={() => setChosen(id)}
              required
            />
            <span>
              {text} {why && <span className="quiet">{why}</span>}
            </span>
            {id === "other" && (
              <input
                type="text"
                className="short"
                aria-label={said.other}
                title={said.otherHow}
                value={length}
                // whoever goes through the form with keys passes it without choosing it
                onClick={() => setChosen("other")}
                onChange={({ target }) => {
                  setLength(target.value)
                  setChosen("other")
                  setProblem("")
                }}
              />
            )}
          </label>
        ))}
      </fieldset>
      {problem !== "" && <p role="alert">{problem}</p>}
      <Field name={said.why} how={said.whyHow}>
        {id => <input id={id} name="why" type="text" autoComplete="off" />}
      </Field>
      <Field name={said.who}>
        {id => <input id={id} name="who" type="text" autoComplete="off" defaultValue={editorName()} />}
      </Field>
      <div className="row">
        <button type="submit" className="act framed">
          {said.decide}
        </button>
        <ActButton id="back" />
      </div>
    </form>
  )
}

function choicesOf(page: Page, told: Told, length: string): Choice[] {
  const { sign, kind } = told
  if (kind === "note" || kind === "rest")
    return [...lengths(told, length), ...refusals(told), ...ways(told), ...dotsAfter(page, told)]
  if (kind === "dot" || kind === "stroke") return dots(sign, said.isDot)
  return []
}

function lengths({ sign, count, duration, rivals }: Told, length: string): Choice[] {
  const lasting = (id: string, text: string, lasts: Decision["duration"] | undefined, why?: string): Choice => ({
    id,
    words: text,
    ...(why ? { why } : {}),
    decisions: (nextId, as) => (lasts ? [{ id: nextId(), sign, duration: lasts, ...as }] : undefined),
  })
  return [
    lasting("now", said.now(count), duration),
    ...rivals.map((one, i) => lasting(`rival ${i}`, said.rival(one.count), one.duration, one.why)),
    lasting("other", `${said.lasts} ${said.other}`, timeFromText(length)),
  ]
}

const refusals = ({ sign, count, duration }: Told): Choice[] => [
  {
    id: "not",
    words: said.isNot(count),
    decisions: (nextId, as) => [{ id: nextId(), sign, not: [duration], ...as }],
  },
]

const ways = ({ ways: all }: Told): Choice[] =>
  all
    .filter(({ signs }) => signs.length > 1)
    .map(({ voice, rival, signs }, i) => ({
      id: `way ${i}`,
      words: `${said.lasts} ${said.way(signs.map(one => `${one.place}: ${one.count}`).join(", "))}`,
      decisions: (nextId, as) => decisionsForRival(rival, { ...as, label: `${voice}, another reading` }, nextId),
    }))

function dotsAfter(page: Page, { sign }: Told): Choice[] {
  const found = signOf(page, sign)
  const mark = found && markAfter(page, found.sign)
  return mark ? dots(mark.id, said.dot) : []
}

const dots = (sign: Decision["sign"], start: string): Choice[] =>
  (Object.keys(said.dots) as DecidedDot[]).map(dot => ({
    id: `dot ${dot}`,
    words: `${start} ${said.dots[dot]}`,
    decisions: (nextId, as) => [{ id: nextId(), sign, dot, ...as }],
  }))

function changeFor(page: Page, choice: Choice | undefined, who: string, why: string): PageChange | undefined {
  const named = personNamed(page, who)
  const as: As = { ...(named ? { who: named.id } : {}), ...(why === "" ? {} : { why }) }
  const made = choice?.decisions(idGiver(page, "decision-"), as)
  if (!made) return undefined
  const changes = made.map(one => puttingDecision(page, one))
  return { kind: "several", changes: [...(named?.change ? [named.change] : []), ...changes] }
}

export function textOf(data: FormData, name: string): string {
  const value = data.get(name)
  return typeof value === "string" ? value.trim().replace(/\s+/g, " ") : ""
}
