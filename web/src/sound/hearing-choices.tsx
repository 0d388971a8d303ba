import { EQUIVALENCES, TEMPO_VALUES, TIMBRES, type Equivalence, type TempoValue, type Timbre } from "@resolutio/core"
import { useStore } from "zustand"
import { useApp, useReading } from "../app.js"
import { words } from "../words/index.js"
import { Choice, Count, valuesOf } from "./choosing/controls.js"
import { Finer } from "./choosing/finer.js"
import { TuningChoice } from "./choosing/tuning.js"
import { Voices } from "./choosing/voices.js"
import { SHIFTS, type Hearing } from "./hearing.js"
import { sound } from "./player.js"

const said = words.listening

/** Each voice's level, place and whether it is heard; the sound, the tuning and the tempo of all. */
export function HearingChoices() {
  const { player } = useApp()
  const page = useReading(state => state.page)
  const hearing = useStore(sound, state => state.hearing)
  const set = (more: Partial<Hearing>): void => player.set(more, page)
  return (
    <div className="hearing">
      <Voices voices={page.voices} />
      <div className="hearing-all">
        <Choice
          name={said.timbre}
          value={hearing.timbre}
          values={valuesOf(TIMBRES, said.timbres)}
          set={timbre => set({ timbre: timbre as Timbre })}
        />
        <TuningChoice hearing={hearing} set={set} />
        <TempoChoice hearing={hearing} set={set} />
      </div>
      <div className="hearing-all">
        <Choice
          name={said.equivalence}
          value={hearing.equivalence}
          usual={said.byPractice}
          values={valuesOf(EQUIVALENCES, said.equivalences)}
          set={equivalence => set({ equivalence: equivalence as Equivalence })}
        />
        <Choice
          name={said.shift}
          value={hearing.shift}
          usual={said.asWritten}
          values={SHIFTS.map(one => [one, said.shifted(one)])}
          set={shift => set({ shift })}
        />
        <Count
          name={said.reference}
          value={hearing.reference}
          {...{ usual: "440", from: 220, to: 880 }}
          set={reference => set({ reference })}
        />
      </div>
      <Finer hearing={hearing} set={set} />
    </div>
  )
}

/** So many of a value in a minute, or what an editor would take. */
function TempoChoice({ hearing, set }: { readonly hearing: Hearing; readonly set: (more: Partial<Hearing>) => void }) {
  const { tempo } = hearing
  const setValue = (value: string | undefined): void =>
    set({ tempo: value === undefined ? undefined : { value: value as TempoValue, perMinute: tempo?.perMinute ?? 60 } })
  return (
    <>
      <Choice
        name={said.tempo}
        value={tempo?.value}
        usual={said.estimate}
        values={valuesOf(TEMPO_VALUES, said.tempoValues)}
        set={setValue}
      />
      {tempo && (
        <Count
          name={said.perMinute}
          value={tempo.perMinute}
          {...{ from: 1, to: 2000 }}
          set={perMinute => perMinute !== undefined && set({ tempo: { ...tempo, perMinute } })}
        />
      )}
    </>
  )
}
