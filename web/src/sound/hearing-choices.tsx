import {
  TEMPO_VALUES,
  TIMBRES,
  TUNINGS,
  placeOf,
  type TempoValue,
  type Timbre,
  type TuningName,
  type Voice,
} from "@resolutio/core"
import { useEffect, useState } from "react"
import { useStore } from "zustand"
import { useApp, useReading } from "../app.js"
import { words } from "../words/index.js"
import type { Hearing, VoiceHearing } from "./hearing.js"
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
        <label>
          {said.timbre}
          <select value={hearing.timbre} onChange={({ target }) => set({ timbre: target.value as Timbre })}>
            {TIMBRES.map(one => (
              <option key={one} value={one}>
                {said.timbres[one]}
              </option>
            ))}
          </select>
        </label>
        <label>
          {said.tuning}
          <select
            value={hearing.tuning ?? ""}
            onChange={({ target }) => set({ tuning: target.value === "" ? undefined : (target.value as TuningName) })}
          >
            <option value="">{said.byPractice}</option>
            {TUNINGS.map(one => (
              <option key={one} value={one}>
                {said.tunings[one]}
              </option>
            ))}
          </select>
        </label>
        <TempoChoice hearing={hearing} set={set} />
      </div>
    </div>
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
  const setValue = (value: string): void =>
    set({ tempo: value === "" ? undefined : { value: value as TempoValue, perMinute: tempo?.perMinute ?? 60 } })
  const setCount = (perMinute: number): void => {
    if (tempo && perMinute >= 1 && perMinute <= 2000) set({ tempo: { ...tempo, perMinute } })
  }
  return (
    <>
      <label>
        {said.tempo}
        <select value={tempo?.value ?? ""} onChange={({ target }) => setValue(target.value)}>
          <option value="">{said.estimate}</option>
          {TEMPO_VALUES.map(one => (
            <option key={one} value={one}>
              {said.tempoValues[one]}
            </option>
          ))}
        </select>
      </label>
      {tempo && (
        <label>
          {said.perMinute}
          <input
            key={`${tempo.value} ${tempo.perMinute}`}
            type="number"
            min="1"
            max="2000"
            defaultValue={tempo.perMinute}
            onBlur={({ target }) => setCount(Number(target.value))}
            onKeyDown={event => {
              if (event.key === "Enter") setCount(Number(event.currentTarget.value))
            }}
          />
        </label>
      )}
    </>
  )
}
