import { words } from "../../words/index.js"
import { PLICAS, REPEATS, type Hearing } from "../hearing.js"
import { Changes } from "./changes.js"
import { Choice, Count, valuesOf } from "./controls.js"

const said = words.listening

/** What is seldom wanted otherwise. */
export function Finer({ hearing, set }: { readonly hearing: Hearing; readonly set: (more: Partial<Hearing>) => void }) {
  const { finer } = said
  return (
    <details className="finer">
      <summary>{finer.name}</summary>
      <div className="hearing">
        <div className="hearing-all">
          <Count
            name={finer.fermata}
            value={hearing.fermata}
            {...{ usual: "2", from: 1, to: 10, step: 0.1 }}
            set={fermata => set({ fermata })}
          />
          <Count
            name={finer.final}
            value={hearing.final}
            {...{ usual: "2.5", from: 0, to: 30, step: 0.1 }}
            set={final => set({ final })}
          />
          <Count
            name={finer.year}
            value={hearing.year}
            {...{ usual: finer.noYear, from: 800, to: 2100 }}
            set={year => set({ year })}
          />
          <Count
            name={finer.beats}
            value={hearing.beats}
            {...{ usual: "4", from: 1, to: 32 }}
            set={beats => set({ beats })}
          />
        </div>
        <div className="hearing-all">
          <Choice
            name={finer.plica}
            value={hearing.plica ?? "sung"}
            values={valuesOf(PLICAS, finer.plicas)}
            set={plica => set({ plica: plica as Hearing["plica"] })}
          />
          <Choice
            name={finer.repeats}
            value={hearing.repeats ?? "written"}
            values={valuesOf(REPEATS, finer.repeated)}
            set={repeats => set({ repeats: repeats as Hearing["repeats"] })}
          />
        </div>
        <Changes hearing={hearing} set={set} />
      </div>
    </details>
  )
}
