import { practiceNamed, type OptionSpec, type VoiceId } from "@resolutio/core"
import { useEffect, useId, useState } from "react"
import { useApp, useDocument, useReading, useView } from "../../app.js"
import { ActButton } from "../../parts/act-button.js"
import { Field } from "../../parts/field.js"
import { Options } from "../../parts/options.js"
import { PracticeSelect } from "../../parts/practice-select.js"
import { useKeysFirst } from "../../parts/use-keys-first.js"
import {
  practiceOf,
  practiceSupposed,
  valueOf,
  type Practices,
  type PracticeSupposed,
} from "../../reading/suppose-practice.js"
import { view } from "../../view/view.js"
import { chapterWords } from "../../words/chapters.js"
import { words } from "../../words/index.js"
import { optionMeaning, valueTold, valueWords } from "./option-words.js"
import { EffectTold, MakeItSo, useEffectOf } from "./supposing.js"

const said = chapterWords.supposePractice
const AS_READ: PracticeSupposed = { options: {} }

/** Voices read by another practice, or by another option of it: what would be otherwise, at once, for as long as it is asked. */
export function SupposingPractice() {
  const page = useDocument(state => state.page)
  const now = usePractices()
  const [asked, setAsked] = useState(AS_READ)
  const supposed = useView(state => state.supposed)
  const first = useKeysFirst<HTMLDivElement>()
  const set = (more: PracticeSupposed): void => {
    setAsked(more)
    view.setState({ supposed: practiceSupposed(page, now, more) })
  }
  // another page is asked anew
  useEffect(() => setAsked(AS_READ), [page])
  const known = practiceNamed(practiceOf(page, now, asked) ?? "")
  return (
    <div className="supposing-practice" ref={first}>
      <h3 className="title headline">{supposed ? words.suppose.if(supposed.words) : said.title}</h3>
      <div className="fields">
        <Field name={said.voices}>
          {id => (
            <select
              id={id}
              data-first
              value={asked.voice ?? ""}
              onChange={({ target }) =>
                set({ ...AS_READ, ...(target.value ? { voice: target.value as VoiceId } : {}) })
              }
            >
              <option value="">{said.all}</option>
              <Options values={page.voices.map(({ id: voice, label, n }) => [voice, label || n])} />
            </select>
          )}
        </Field>
        <Field name={said.practice}>
          {id => (
            <PracticeSelect
              id={id}
              value={asked.practice ?? ""}
              none={said.asNow}
              set={name => {
                const { voice } = asked
                set({ ...(voice ? { voice } : {}), ...(name === "" ? {} : { practice: name }), options: {} })
              }}
            />
          )}
        </Field>
        {known ? (
          <OptionAsked key={known.name} options={known.options} now={now} asked={asked} set={set} />
        ) : (
          <p className="quiet">{said.several}</p>
        )}
      </div>
      <Effect />
    </div>
  )
}

/** By which practice each voice of the piece is read, whatever is supposed. */
function usePractices(): Practices {
  const { readings } = useApp()
  const voices = useDocument(state => state.page.voices)
  const [now, setNow] = useState<Practices>(new Map())
  const isSupposed = useView(state => state.supposed !== undefined)
  const read = useReading(state => state.read)
  useEffect(() => {
    if (!isSupposed) setNow(new Map(voices.map(voice => [voice.id, readings.ownReading(voice).practice])))
  }, [readings, voices, isSupposed, read])
  return now
}

interface Asking {
  readonly options: readonly OptionSpec[]
  readonly now: Practices
  readonly asked: PracticeSupposed
  readonly set: (asked: PracticeSupposed) => void
}

/** The practice's options, one after the other: what each decides, what each of its values means; and those tried together. */
function OptionAsked({ options, now, asked, set }: Asking) {
  const page = useDocument(state => state.page)
  const [name, setName] = useState(options[0]?.name ?? "")
  const option = options.find(one => one.name === name)
  const choose = (value: string): void => {
    const others = withoutOption(asked, name)
    const isAsIs = valueOf(page, now, others, option!) === value
    set(isAsIs ? others : { ...asked, options: { ...asked.options, [name]: value } })
  }
  return (
    <>
      <Field name={said.option}>
        {id => (
          <select id={id} value={name} onChange={({ target }) => setName(target.value)}>
            <Options
              values={options.map(one => [
                one.name,
                one.name in asked.options ? said.chosen(optionMeaning(one)) : optionMeaning(one),
              ])}
            />
          </select>
        )}
      </Field>
      {option && <Values option={option} value={valueOf(page, now, asked, option)} choose={choose} />}
      <TriedTogether options={options} asked={asked} set={set} show={setName} />
    </>
  )
}

function withoutOption(asked: PracticeSupposed, name: string): PracticeSupposed {
  const { [name]: _, ...options } = asked.options
  return { ...asked, options }
}

/** Each with what it means and who says so. */
function Values({
  option,
  value: chosen,
  choose,
}: {
  readonly option: OptionSpec
  readonly value: string
  readonly choose: (value: string) => void
}) {
  const group = useId()
  return (
    <fieldset className="option-values">
      <legend className="quiet">{optionMeaning(option)}</legend>
      {option.values.map(value => {
        const { meaning, source } = valueTold(option, value)
        return (
          <label key={value} className="option-value">
            <input type="radio" name={group} value={value} checked={chosen === value} onChange={() => choose(value)} />
            <span>
              <b>{valueWords(option, value)}</b> {meaning} <span className="quiet">{source}.</span>
            </span>
          </label>
        )
      })}
    </fieldset>
  )
}

/** All that are to be otherwise; each can be gone to, and be as it is again. */
function TriedTogether({ options, asked, set, show }: Omit<Asking, "now"> & { readonly show: (name: string) => void }) {
  const tried = options.filter(({ name }) => name in asked.options)
  if (tried.length === 0) return null
  return (
    <ul className="tried" aria-label={said.tried}>
      {tried.map(one => (
        <li key={one.name}>
          <button type="button" className="line-act" onClick={() => show(one.name)}>
            {optionMeaning(one)}: <b>{valueWords(one, asked.options[one.name]!)}</b>
          </button>{" "}
          <button
            type="button"
            className="line-act inline"
            aria-label={said.asIsAgain(optionMeaning(one))}
            onClick={() => set(withoutOption(asked, one.name))}
          >
            {said.asIs}
          </button>
        </li>
      ))}
    </ul>
  )
}

/** What would be otherwise; what to do about it stands before the long list. */
function Effect() {
  const supposed = useView(state => state.supposed)
  const effect = useEffectOf(supposed)
  const acts = (
    <div className="row">
      {supposed && <MakeItSo supposed={supposed} />}
      <ActButton id="back" framed say={words.suppose.back} />
    </div>
  )
  if (supposed && effect)
    return (
      <div aria-live="polite" className="effect">
        <EffectTold effect={effect} whole>
          {acts}
        </EffectTold>
      </div>
    )
  return (
    <div aria-live="polite" className="effect">
      <p className="quiet">{supposed ? words.status.reading : words.suppose.how}</p>
      {acts}
    </div>
  )
}
