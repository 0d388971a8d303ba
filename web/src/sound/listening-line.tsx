import { useStore } from "zustand"
import { useApp, useReading } from "../app.js"
import { ActButton } from "../parts/act-button.js"
import { isWide } from "../parts/is-wide.js"
import { later } from "../parts/later.js"
import { words } from "../words/index.js"
import { sound } from "./player.js"

const HearingChoices = later(() => import("./hearing-choices.js").then(one => one.HearingChoices))
const said = words.listening

/** How loud, how fast, which voices. */
export function ListeningLine() {
  const { phase, share, failed, shown, rivals, sentences } = useStore(sound)
  return (
    <section className="listening" aria-label={words.groups.hear}>
      <Run />
      {phase === "making" && (
        <p role="status" className="quiet">
          {said.making(share)} {!isWide() && said.quiet}
        </p>
      )}
      {failed !== undefined && (
        <p role="status" className="quiet">
          {failed}
        </p>
      )}
      {rivals && rivals.sentence !== "" && (
        <p role="status" className="quiet">
          {said.reading[rivals.now]} {rivals.sentence}
        </p>
      )}
      {shown && <HearingChoices />}
      {shown && sentences.length > 0 && (
        <details className="quiet">
          <summary>{said.sounded}</summary>
          {sentences.map(sentence => (
            <p key={sentence}>{sentence}</p>
          ))}
        </details>
      )}
      {phase !== "making" && isWide() && <p className="quiet">{said.quiet}</p>}
    </section>
  )
}

/** What one reaches for while it sounds. */
function Run() {
  const { player } = useApp()
  const { phase, loudness } = useStore(sound)
  return (
    <>
      <ActButton id="listen" say={phase === "playing" ? words.acts.pause : words.acts.listen} />
      {isWide() ? <ActButton id="stopSound" /> : <ActButton id="stopSound" say={said.stop} />}
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
      {isWide() ? (
        <HowItRuns />
      ) : (
        <details className="more-acts">
          <summary>{said.more}</summary>
          <HowItRuns />
        </details>
      )}
    </>
  )
}

/** Speed, and what is heard again: in a small window behind a word. */
function HowItRuns() {
  const { player } = useApp()
  const page = useReading(state => state.page)
  const { loop, passage, hearing } = useStore(sound)
  return (
    <div className="how-it-runs">
      <ActButton id="slower" />
      <span className="quiet">{said.speed(hearing.speed)}</span>
      <ActButton id="faster" />
      <label className="tick">
        <input type="checkbox" checked={loop} onChange={({ target }) => player.setLoop(target.checked)} />
        {passage ? said.passage(passage.measures, passage.signs.length) : words.acts.loop}
      </label>
      <label className="tick">
        <input
          type="checkbox"
          checked={hearing.countIn}
          onChange={({ target }) => player.set({ countIn: target.checked }, page)}
        />
        {words.acts.countIn}
      </label>
      <ActButton id="passage" />
      <ActButton id="soundAs" />
    </div>
  )
}
