import type { FormEvent } from "react"
import { useApp } from "../app.js"
import { newPage } from "../doors/new-piece.js"
import { Field } from "../parts/field.js"
import { PracticeSelect } from "../parts/practice-select.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"

const said = words.sheets.begin

/** `first`: its title has the keys. */
export function NewPieceForm({ first = false }: { readonly first?: boolean }) {
  const { documents } = useApp()
  const begin = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const data = new FormData(event.currentTarget)
    const text = (name: string): string => {
      const value = data.get(name)
      return typeof value === "string" ? value.trim() : ""
    }
    const practice = text("practice")
    const page = newPage({
      title: text("title"),
      voices: text("voices")
        .split(",")
        .map(name => name.trim())
        .filter(name => name !== ""),
      notation: text("notation") === "white" ? "white" : "black",
      ...(practice === "" ? {} : { practice }),
    })
    void documents.create(page)
    view.setState({ selected: undefined, sheet: undefined, open: ["page", "time"] })
  }
  return (
    <form className="form" onSubmit={begin}>
      <Field name={said.pieceTitle}>
        {id => <input id={id} name="title" type="text" autoComplete="off" {...(first ? { "data-first": true } : {})} />}
      </Field>
      <Field name={said.voices} how={said.voicesHow}>
        {id => <input id={id} name="voices" type="text" autoComplete="off" defaultValue={said.usualVoices} />}
      </Field>
      <Field name={said.notation}>
        {id => (
          <select id={id} name="notation">
            <option value="black">{said.black}</option>
            <option value="white">{said.white}</option>
          </select>
        )}
      </Field>
      <Field name={said.practice}>{id => <PracticeSelect id={id} name="practice" none={said.inferred} />}</Field>
      <button type="submit" className="act framed">
        {said.begin}
      </button>
    </form>
  )
}
