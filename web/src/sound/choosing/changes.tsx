import { EQUIVALENCES } from "@resolutio/core"
import { useState } from "react"
import { useStore } from "zustand"
import { words } from "../../words/index.js"
import { changeFrom, keepsFrom, type ChangeHearing, type Hearing } from "../hearing.js"
import { sound } from "../player.js"
import { Choice, valuesOf } from "./controls.js"

const said = words.listening
const RATIO = "ratio"

/** What stays equal at one single change of sign: those of the piece, once it was heard, and whatever moment one names. */
export function Changes({
  hearing,
  set,
}: {
  readonly hearing: Hearing
  readonly set: (more: Partial<Hearing>) => void
}) {
  const found = useStore(sound, state => state.changes)
  const { changes = [] } = hearing
  const moments = [...new Set([...found, ...changes.map(({ onset }) => onset)])]
  const keep = (onset: string, keeps: string | undefined): void => {
    const others = changes.filter(one => one.onset !== onset)
    set({ changes: keeps === undefined ? others : [...others, { onset, keeps }] })
  }
  return (
    <fieldset className="changes">
      <legend>{said.changes}</legend>
      {moments.length === 0 && <p className="quiet">{said.noChanges}</p>}
      {moments.map(onset => (
        <Change key={onset} onset={onset} known={changes.find(one => one.onset === onset)} keep={keep} />
      ))}
      <Another add={keep} />
    </fieldset>
  )
}

type Keep = (onset: string, keeps: string | undefined) => void

function Change({
  onset,
  known,
  keep,
}: {
  readonly onset: string
  readonly known?: ChangeHearing | undefined
  readonly keep: Keep
}) {
  const isRatio = known !== undefined && !EQUIVALENCES.some(one => one === known.keeps)
  return (
    <div className="change">
      <Choice
        name={said.changeAt(onset)}
        value={isRatio ? RATIO : known?.keeps}
        usual={said.likeOthers}
        values={[...valuesOf(EQUIVALENCES, said.equivalences), [RATIO, said.inNumbers]]}
        set={value => keep(onset, value === RATIO ? "3/2" : value)}
      />
      {isRatio && (
        <label>
          {said.faster}
          <input
            key={known.keeps}
            className="short"
            defaultValue={known.keeps}
            onBlur={({ target }) => keepsFrom(target.value) !== undefined && keep(onset, target.value.trim())}
          />
        </label>
      )}
    </div>
  )
}

/** A moment at which no sign changes can have another speed too. */
function Another({ add }: { readonly add: Keep }) {
  const [typed, setTyped] = useState("")
  const change = changeFrom({ onset: typed, keeps: "minim" })
  return (
    <div className="change">
      <label>
        {said.anotherMoment}
        <input className="short" value={typed} onChange={({ target }) => setTyped(target.value)} />
      </label>
      {change && (
        <button
          type="button"
          className="act"
          onClick={() => {
            add(typed.trim(), "3/2")
            setTyped("")
          }}
        >
          {said.addMoment(typed.trim())}
        </button>
      )}
    </div>
  )
}
