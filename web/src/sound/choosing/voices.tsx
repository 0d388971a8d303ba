import { placeOf, TIMBRES, type Timbre, type Voice } from "@resolutio/core"
import { useStore } from "zustand"
import { useApp, useReading } from "../../app.js"
import { words } from "../../words/index.js"
import type { VoiceHearing } from "../hearing.js"
import { sound } from "../player.js"
import { Choice, Slider, Tick, valuesOf } from "./controls.js"

const said = words.listening
const HEADS = [said.voice, said.level, said.place, said.timbre, said.mute, said.solo]

/** Each voice's level, place, sound, and whether it is heard. */
export function Voices({ voices }: { readonly voices: readonly Voice[] }) {
  return (
    <table className="hearing-voices">
      <caption className="heard">{said.voices}</caption>
      <thead>
        <tr>
          {HEADS.map(head => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
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
  const { level = 0, place = usualPlace, ...own } = useStore(sound, state => state.hearing.voices[voice.id]) ?? {}
  const set = (more: VoiceHearing): void => player.setVoice(voice.id, more, page)
  const name = voice.label || voice.n
  const ofLevel = { name: said.levelOf(name), value: level, from: -24, to: 6, step: 1, shown: said.decibels(level) }
  const ofPlace = { name: said.placeOf(name), value: place, from: -1, to: 1, step: 0.1, shown: said.places(place) }
  const sliders = [
    { ...ofLevel, set: (to: number) => set({ level: to }) },
    { ...ofPlace, set: (to: number) => set({ place: to }) },
  ]
  return (
    <tr>
      <th scope="row">{name}</th>
      {sliders.map(slider => (
        <td key={slider.name}>
          <Slider {...slider} />
        </td>
      ))}
      <td>
        <Choice
          name={said.timbreOf(name)}
          hidden
          value={own.timbre}
          usual={said.likeAll}
          values={valuesOf(TIMBRES, said.timbres)}
          set={timbre => set({ timbre: timbre as Timbre | undefined })}
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
