import { useStore } from "zustand"
import { useApp, useReading } from "../app.js"
import { ActButton } from "../parts/act-button.js"
import { words } from "../words/index.js"
import { sound } from "./player.js"

const said = words.listening

/** While something is heard, or is about to be: how loud, how fast, which voices. */
export function ListeningLine() {
  const { player } = useApp()
  const page = useReading(state => state.page)
  const { voices } = page
  const { phase, share, loudness, speed, loop, countIn, mute, failed } = useStore(sound)
  if (phase === "silent") return failed === undefined ? null : <Told of={failed} />
  if (phase === "making") return <Told of={said.making(share)} />
  const turn = (id: (typeof voices)[number]["id"]): void =>
    player.set({ mute: mute.includes(id) ? mute.filter(one => one !== id) : [...mute, id] }, page)
  return (
    <section className="listening" aria-label={words.groups.hear}>
      <ActButton id="listen" say={phase === "playing" ? words.acts.pause : words.acts.listen} />
      <ActButton id="stopSound" />
      <label>
        {said.level}{" "}
        <input
          type="range"
          min="0"
          max="1"
          step="0.05"
          value={loudness}
          onChange={({ target }) => player.setLoudness(Number(target.value))}
        />
      </label>
      <ActButton id="slower" />
      <span className="quiet">{said.speed(speed)}</span>
      <ActButton id="faster" />
      <label className="tick">
        <input type="checkbox" checked={loop} onChange={({ target }) => player.setLoop(target.checked)} />
        {words.acts.loop}
      </label>
      <label className="tick">
        <input
          type="checkbox"
          checked={countIn}
          onChange={({ target }) => player.set({ countIn: target.checked }, page)}
        />
        {words.acts.countIn}
      </label>
      <fieldset>
        <legend className="heard">{said.voices}</legend>
        {voices.map(voice => (
          <label key={voice.id} className="tick">
            <input type="checkbox" checked={!mute.includes(voice.id)} onChange={() => turn(voice.id)} />
            {voice.label || voice.n}
          </label>
        ))}
      </fieldset>
      <p className="quiet">{said.quiet}</p>
    </section>
  )
}

function Told({ of }: { readonly of: string }) {
  return (
    <section className="listening" aria-label={words.groups.hear}>
      <p role="status" className="quiet">
        {of}
      </p>
      <ActButton id="stopSound" />
    </section>
  )
}
