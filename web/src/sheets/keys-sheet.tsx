import { useApp, useView } from "../app.js"
import type { ActGroup } from "../acts/acts.js"
import { Key } from "../parts/act-button.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"
import { SheetFrame, SheetPart } from "./sheet.js"

const said = words.sheets.keys

/** Every act that has a key, and whether letters act by themselves. */
export function KeysSheet() {
  const { acts } = useApp()
  const letters = useView(state => state.letters)
  return (
    <SheetFrame title={said.title}>
      <div className="part">
        <span />
        <div>
          <label className="tick">
            <input
              type="checkbox"
              data-first
              checked={letters}
              onChange={({ target }) => view.setState({ letters: target.checked })}
            />
            {said.letters}
          </label>
          <p className="quiet">
            {said.how} {said.lettersHow}
          </p>
        </div>
      </div>
      {(Object.keys(words.groups) as ActGroup[]).map(group => (
        <SheetPart key={group} name={words.groups[group]}>
          <ul className="key-list">
            {acts.all
              .filter(act => act.group === group && act.key !== undefined)
              .map(act => (
                <li key={act.id}>
                  <Key of={act.key!} />
                  <span className="heard">{act.key}</span> {act.words}
                </li>
              ))}
          </ul>
        </SheetPart>
      ))}
    </SheetFrame>
  )
}
