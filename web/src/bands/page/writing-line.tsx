import { ABBREVIATIONS, LEVELS } from "@resolutio/core"
import { useStore } from "zustand"
import { useApp, useView } from "../../app.js"
import { hasKeyboards, keyboard } from "../../keyboard/keyboard.js"
import { ActButton } from "../../parts/act-button.js"
import { isWide } from "../../parts/is-wide.js"
import { words } from "../../words/index.js"

const ACTS = ["rest", "dot", "accidental", "stem", "plica", "colour", "bind", "unbind", "higher", "lower", "over"]

/** What is being written, and what can be: for those who point, and to learn the keys by. */
export function WritingLine() {
  const { acts } = useApp()
  const writing = useView(state => state.writing)
  const { level, over } = writing ?? { level: "semibrevis", over: false }
  const { writing: said } = words
  return (
    <div className="writing-line" role="toolbar" aria-label={words.groups.write}>
      <p role="status" className="quiet">
        {said.writing(said.levels[level], over)} {said.how}
      </p>
      <div className="levels">
        {LEVELS.map((one, i) => (
          <button
            key={one}
            type="button"
            className="act"
            aria-pressed={one === level}
            aria-keyshortcuts={String(i + 1)}
            onClick={() => acts.run(`level-${one}`)}
          >
            {ABBREVIATIONS[one]}
            <span className="heard">, {said.levels[one]}</span>
            <kbd aria-hidden="true">{i + 1}</kbd>
          </button>
        ))}
      </div>
      <details className="more-acts" open={isWide()}>
        <summary>{said.more}</summary>
        <div className="levels">
          {ACTS.map(id => (
            <ActButton key={id} id={id} />
          ))}
          {hasKeyboards() && <KeyboardButton />}
        </div>
      </details>
    </div>
  )
}

function KeyboardButton() {
  const { acts } = useApp()
  const phase = useStore(keyboard, state => state.phase)
  return (
    <button type="button" className="act" aria-pressed={phase === "on"} onClick={() => acts.run("keyboard")}>
      {words.keyboard.name}
    </button>
  )
}
