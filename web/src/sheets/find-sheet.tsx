import { useId, useState, type KeyboardEvent } from "react"
import { useApp } from "../app.js"
import type { Act } from "../acts/acts.js"
import { Key } from "../parts/act-button.js"
import { setSheet } from "../view/view.js"
import { words } from "../words/index.js"
import { SheetFrame } from "./sheet.js"

const said = words.sheets.find

/** Every act, found by its words. */
export function FindSheet() {
  const { acts } = useApp()
  const [wanted, setWanted] = useState("")
  const [at, setAt] = useState(0)
  const list = useId()
  const found = acts.all.filter(act => act.id !== "find" && !act.isOff?.() && matches(act, wanted))
  const chosen = found[Math.min(at, found.length - 1)]
  const run = (act: Act | undefined): void => {
    if (!act) return
    setSheet(undefined)
    act.run()
  }
  const onKey = (event: KeyboardEvent): void => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key]
    if (step !== undefined) setAt((Math.min(at, found.length - 1) + step + found.length) % Math.max(1, found.length))
    else if (event.key === "Enter") run(chosen)
    else return
    event.preventDefault()
  }
  return (
    <SheetFrame title={said.title}>
      <div className="part">
        <span />
        <div>
          <input
            className="wide"
            type="text"
            role="combobox"
            data-first
            autoComplete="off"
            aria-label={said.field}
            placeholder={said.field}
            aria-expanded="true"
            aria-controls={list}
            aria-activedescendant={chosen && `${list}-${chosen.id}`}
            value={wanted}
            onChange={({ target }) => {
              setWanted(target.value)
              setAt(0)
            }}
            onKeyDown={onKey}
          />
          <ul id={list} role="listbox" aria-label={said.title} className="found">
            {found.map(act => (
              <li
                key={act.id}
                id={`${list}-${act.id}`}
                role="option"
                aria-selected={act === chosen}
                onClick={() => run(act)}
              >
                <span>{act.words}</span>
                <span className="quiet">{words.groups[act.group]}</span>
                {act.key && <Key of={act.key} />}
              </li>
            ))}
          </ul>
          {found.length === 0 && <p className="quiet">{said.none}</p>}
        </div>
      </div>
    </SheetFrame>
  )
}

/** Every word typed begins a word of the act or of its group. */
function matches({ words: own, group }: Act, wanted: string): boolean {
  const there = `${own} ${words.groups[group]}`.toLowerCase().split(/\s+/)
  const typed = wanted.toLowerCase().split(/\s+/).filter(Boolean)
  return typed.every(one => there.some(word => word.startsWith(one)))
}
