/** Acts of listening. */
import { placeOf, TIMBRES, TUNINGS } from "@resolutio/core"
import type { App } from "../app.js"
import { voiceOf } from "../document/index-signs.js"
import { sound } from "../sound/player.js"
import { chosenIn } from "../view/chosen.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"
import type { Act } from "./acts.js"

const SPEEDS = [0.5, 0.6, 0.75, 0.9, 1, 1.15, 1.35]

type Listening = Pick<App, "readings" | "player">

export function listeningActs(app: Listening): Act[] {
  const { readings, player } = app
  const page = () => readings.store.getState().page
  const selected = () => view.getState().selected
  const faster = (by: 1 | -1): void => {
    const { speed } = sound.getState().hearing
    const near = SPEEDS.findIndex(one => one >= speed - 1e-6)
    const to = SPEEDS[(near < 0 ? SPEEDS.length : near) + by]
    if (to !== undefined) player.set({ speed: to }, page())
  }
  return [
    hear("listen", " ", () => player.turn(page(), selected())),
    hear("stopSound", "Shift+ ", () => player.stop()),
    hear("slower", "<", () => faster(-1)),
    hear("faster", ">", () => faster(1)),
    hear("louder", undefined, () => player.louder(0.1)),
    hear("softer", undefined, () => player.louder(-0.1)),
    hear("loop", undefined, () => player.setLoop(!sound.getState().loop)),
    hear("countIn", undefined, () => player.set({ countIn: !sound.getState().hearing.countIn }, page())),
    hear("soundAs", "s", () => sound.setState({ shown: !sound.getState().shown })),
    hear("otherSound", undefined, () => {
      const { timbre } = sound.getState().hearing
      player.set({ timbre: TIMBRES[(TIMBRES.indexOf(timbre) + 1) % TIMBRES.length] }, page())
    }),
    hear("otherTuning", undefined, () => {
      const { tuning } = sound.getState().hearing
      player.set({ tuning: TUNINGS[TUNINGS.findIndex(one => one === tuning) + 1] }, page())
    }),
    ...passageActs(app),
    ...voiceActs(app),
  ]
}

function hear(
  id: Exclude<keyof typeof words.acts, "undoing" | "redoing">,
  key: string | undefined,
  run: () => void,
  isOff?: () => boolean,
): Act {
  return {
    id,
    group: "hear",
    words: words.acts[id],
    ...(key === undefined ? {} : { key }),
    ...(isOff ? { isOff } : {}),
    run,
  }
}

function passageActs({ readings, player }: Listening): Act[] {
  const page = () => readings.store.getState().page
  const noSign = () => view.getState().selected === undefined
  /** Several signs are a passage of themselves; of one it is the measure. */
  const again = (): void => {
    if (sound.getState().passage) return player.setPassage(undefined, page())
    const signs = chosenIn(page(), view.getState())
    player.setPassage({ signs, measures: signs.length === 1 }, page())
  }
  const isSure = (): boolean => {
    const { selected } = view.getState()
    return selected === undefined || (readings.ownTold(selected)?.rivals.length ?? 0) === 0
  }
  return [
    hear("passage", "k", again, noSign),
    hear("bothReadings", "b", () => player.compare(page(), view.getState().selected!), isSure),
  ]
}

/** For the voice of the selected sign; the first where none is selected. */
function voiceActs({ readings, player }: Listening): Act[] {
  const page = () => readings.store.getState().page
  const asked = () => {
    const { selected } = view.getState()
    return (selected === undefined ? undefined : voiceOf(page(), selected)) ?? page().voices[0]
  }
  const turn = (what: "mute" | "solo") => (): void => {
    const voice = asked()
    if (voice) player.setVoice(voice.id, { [what]: !sound.getState().hearing.voices[voice.id]?.[what] }, page())
  }
  const move = (what: "level" | "place", by: number, from: number, to: number) => (): void => {
    const voice = asked()
    if (!voice) return
    const usual = what === "level" ? 0 : placeOf(page().voices.indexOf(voice), page().voices.length)
    const now = sound.getState().hearing.voices[voice.id]?.[what] ?? usual
    const next = Math.round(10 * Math.min(to, Math.max(from, now + by))) / 10
    player.setVoice(voice.id, { [what]: next }, page())
  }
  return [
    hear("muteVoice", undefined, turn("mute")),
    hear("soloVoice", undefined, turn("solo")),
    hear("voiceLouder", undefined, move("level", 3, -24, 6)),
    hear("voiceSofter", undefined, move("level", -3, -24, 6)),
    hear("voiceLeft", undefined, move("place", -0.2, -1, 1)),
    hear("voiceRight", undefined, move("place", 0.2, -1, 1)),
  ]
}
