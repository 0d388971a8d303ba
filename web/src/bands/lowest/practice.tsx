import { practiceNamed, type OptionSpec, type Voice } from "@resolutio/core"
import { useApp, useDocument, useReading } from "../../app.js"
import { ActButton } from "../../parts/act-button.js"
import { Field } from "../../parts/field.js"
import { PracticeSelect } from "../../parts/practice-select.js"
import { chapterWords } from "../../words/chapters.js"
import { optionMeaning, valueTold, valueWords } from "./option-words.js"

const said = chapterWords.practice

/** By which practice each voice is read, with all its options and who says so. */
export function PracticeChapter() {
  const voices = useDocument(state => state.page.voices)
  return (
    <div className="practices">
      <ActButton id="supposePractice" />
      {voices.map(voice => (
        <OfVoice key={voice.id} voice={voice} />
      ))}
    </div>
  )
}

function OfVoice({ voice }: { readonly voice: Voice }) {
  const { documents, readings } = useApp()
  useReading(state => state.read)
  const label = voice.label || voice.n
  const { practice } = readings.ownReading(voice)
  const known = practiceNamed(practice.name)
  const stated = voice.practice && practiceNamed(voice.practice.name)
  const choose = (name: string): void =>
    void documents.act(
      { kind: "set-voice", voice: voice.id, set: { practice: name === "" ? null : { name, options: {} } } },
      said.step(label),
    )
  return (
    <section aria-label={label}>
      <Field name={said.title(label)} {...(stated || !known ? {} : { how: said.inferred(known.title) })}>
        {id => <PracticeSelect id={id} value={stated?.name ?? ""} none={said.notes} set={choose} />}
      </Field>
      {known && <Options voice={voice} name={known.name} options={known.options} inForce={practice.options} />}
    </section>
  )
}

function Options({
  voice,
  name,
  options,
  inForce,
}: {
  readonly voice: Voice
  readonly name: string
  readonly options: readonly OptionSpec[]
  readonly inForce: Readonly<Record<string, string>>
}) {
  const { documents } = useApp()
  const unusual = options.filter(one => inForce[one.name] !== one.default).length
  const choose = (option: string, value: string): void =>
    void documents.act(
      {
        kind: "set-voice",
        voice: voice.id,
        set: { practice: { name, options: { ...voice.practice?.options, [option]: value } } },
      },
      said.option(voice.label || voice.n),
    )
  return (
    <details>
      <summary>{said.options(unusual)}</summary>
      {options.map(one => (
        <Field key={one.name} name={optionMeaning(one)} how={howOf(one, inForce[one.name] ?? one.default)}>
          {id => (
            <select
              id={id}
              value={inForce[one.name] ?? one.default}
              onChange={({ target }) => choose(one.name, target.value)}
            >
              {one.values.map(value => (
                <option key={value} value={value}>
                  {valueWords(one, value)}
                </option>
              ))}
            </select>
          )}
        </Field>
      ))}
    </details>
  )
}

/** What the value in force means, and who says so. */
function howOf(option: OptionSpec, value: string): string {
  const { meaning, source } = valueTold(option, value)
  return `${meaning} ${source}`
}
