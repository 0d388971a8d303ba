import { useStore } from "zustand"
import { useApp } from "../app.js"
import { Key } from "../parts/act-button.js"
import { words } from "../words/index.js"
import { WALK, walking } from "./walk.js"

const said = words.walk

/** What is to be done next, and whether it has been. */
export function WalkLine() {
  const { walk } = useApp()
  const at = useStore(walking, state => state.at)
  if (at === undefined) return null
  const name = WALK[at]
  const step = name && said.steps[name]
  return (
    <section className="walk" aria-label={said.title}>
      <p className="sentence" role="status">
        {step && <span className="walk-number">{said.number(at + 1, WALK.length)}</span>}
        {step?.keys.map(key => (
          <Key key={key} of={key} />
        ))}
        <span>{step ? step.words : said.all}</span>
      </p>
      <div className="acts">
        {step && (
          <button type="button" className="act" onClick={() => walk.pass()}>
            {said.pass}
          </button>
        )}
        <button type="button" className="act" onClick={() => walk.end()}>
          {said.leave}
        </button>
      </div>
    </section>
  )
}
