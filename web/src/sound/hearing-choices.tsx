import {
  EQUIVALENCES,
  TEMPO_VALUES,
  TIMBRES,
  TUNINGS,
  placeOf,
  type Equivalence,
  type TempoValue,
  type Timbre,
  type TuningName,
  type Voice,
} from "@resolutio/core"
import { useEffect, useState } from "react"
import { useStore } from "zustand"
import { useApp, useReading } from "../app.js"
import { words } from "../words/index.js"
import { SHIFTS, type Hearing, type VoiceHearing } from "./hearing.js"
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
          values={TIMBRES.map(one => [one, said.timbres[one]])}
          set={timbre => set({ timbre: timbre as Timbre })}
        />
        <Choice
          name={said.tuning}
          value={hearing.tuning}
          usual={said.byPractice}
          values={TUNINGS.map(one => [one, said.tunings[one]])}
          set={tuning => set({ tuning: tuning as TuningName })}
        />
        <TempoChoice hearing={hearing} set={set} />
      </div>
      <div className="hearing-all">
        <Choice
          name={said.equivalence}
          value={hearing.equivalence}
          usual={said.byPractice}
          values={EQUIVALENCES.map(one => [one, said.equivalences[one]])}
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
          value={hearing.reference ?? 440}
          from={220}
          to={880}
          set={reference => set({ reference })}
        />
      </div>
    </div>
  )
}

/** Without a value it is as usual, which has words of its own. */
function Choice({
  name,
  value,
  usual,
  values,
  set,
}: {
  readonly name: string
  readonly value: string | undefined
  readonly usual?: string
  readonly values: readonly (readonly [value: string, shown: string])[]
  readonly set: (value: string | undefined) => void
}) {
  return (
    <label>
      {name}
      <select value={value ?? ""} onChange={({ target }) => set(target.value === "" ? undefined : target.value)}>
        {usual !== undefined && <option value="">{usual}</option>}
        {values.map(([one, shown]) => (
          <option key={one} value={one}>
            {shown}
          </option>
        ))}
      </select>
    </label>
  )
}

/** A number; it is taken when one is done with typing it. */
function Count({
  name,
  value,
  from,
  to,
  set,
}: {
  readonly name: string
  readonly value: number
  readonly from: number
  readonly to: number
  readonly set: (value: number) => void
}) {
  const take = (text: string): void => {
    const wanted = Number(text)
    if (wanted !== value && wanted >= from && wanted <= to) set(wanted)
  }
  return (
    <label>
      {name}
      <input
        key={value}
        type="number"
        min={from}
        max={to}
        defaultValue={value}
        onBlur={({ target }) => take(target.value)}
        onKeyDown={event => {
          if (event.key === "Enter") take(event.currentTarget.value)
        }}
      />
    </label>
  )
}

function Voices({ voices }: { readonly voices: readonly Voice[] }) {
  return (
    <table className="hearing-voices">
      <caption className="heard">{said.voices}</caption>
      <thead>
        <tr>
          <th scope="col">{said.voice}</th>
          <th scope="col">{said.level}</th>
          <th scope="col">{said.place}</th>
          <th scope="col">{said.mute}</th>
          <th scope="col">{said.solo}</th>
        </tr>
      </thead>
      <tbody>
        {voices.map((voice, i) => (
          <VoiceRow key={voice.id} voice={voice} usualPlace={placeOf(i, voices.length)} />
        ))}
      </tbody>
    </table>
  )
}

function VoiceRow({ voice, usualPlace }: { readonly voice: Voice; readonly usualPlace: number }) {
  const { player } = useApp()
  const page = useReading(state => state.page)
  const own = useStore(sound, state => state.hearing.voices[voice.id]) ?? {}
  const set = (more: VoiceHearing): void => player.setVoice(voice.id, more, page)
  const name = voice.label || voice.n
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>
        <Slider
          name={said.levelOf(name)}
          value={own.level ?? 0}
          from={-24}
          to={6}
          step={1}
          shown={said.decibels(own.level ?? 0)}
          set={level => set({ level })}
        />
      </td>
      <td>
        <Slider
          name={said.placeOf(name)}
          value={own.place ?? usualPlace}
          from={-1}
          to={1}
          step={0.1}
          shown={said.places(own.place ?? usualPlace)}
          set={place => set({ place })}
        />
      </td>
      <td>
        <Tick name={said.muteOf(name)} value={own.mute ?? false} set={mute => set({ mute })} />
      </td>
      <td>
        <Tick name={said.soloOf(name)} value={own.solo ?? false} set={solo => set({ solo })} />
      </td>
    </tr>
  )
}

function Tick({
  name,
  value,
  set,
}: {
  readonly name: string
  readonly value: boolean
  readonly set: (value: boolean) => void
}) {
  return <input type="checkbox" aria-label={name} checked={value} onChange={({ target }) => set(target.checked)} />
}

interface SliderProps {
  readonly name: string
  readonly value: number
  readonly from: number
  readonly to: number
  readonly step: number
  readonly shown: string
  readonly set: (value: number) => void
}

/** What is chosen is made heard when the slider has come to rest. */
function Slider({ name, value, from, to, step, shown, set }: SliderProps) {
  const [moving, setMoving] = useState<number>()
  useEffect(() => {
    if (moving === undefined) return undefined
    const rest = setTimeout(() => {
      setMoving(undefined)
      set(moving)
    }, 250)
    return () => clearTimeout(rest)
  }, [moving])
  return (
    <input
      type="range"
      aria-label={name}
      aria-valuetext={shown}
      title={shown}
      min={from}
      max={to}
      step={step}
      value={moving ?? value}
      onChange={({ target }) => setMoving(Number(target.value))}
    />
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
        values={TEMPO_VALUES.map(one => [one, said.tempoValues[one]])}
        set={setValue}
      />
      {tempo && (
        <Count
          name={said.perMinute}
          value={tempo.perMinute}
          from={1}
          to={2000}
          set={perMinute => set({ tempo: { ...tempo, perMinute } })}
        />
      )}
    </>
  )
}
