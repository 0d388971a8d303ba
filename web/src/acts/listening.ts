/** Acts of listening. */
import type { App } from "../app.js"
import { sound } from "../sound/player.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"
import type { Act } from "./acts.js"

const SPEEDS = [0.5, 0.6, 0.75, 0.9, 1, 1.15, 1.35]

export function listeningActs({ readings, player }: Pick<App, "readings" | "player">): Act[] {
  const { acts } = words
  const hear = (
    id: "listen" | "stopSound" | "slower" | "faster" | "louder" | "softer" | "loop" | "countIn",
    key: string | undefined,
    run: () => void,
  ): Act => ({
    id,
    group: "hear",
    words: acts[id],
    ...(key === undefined ? {} : { key }),
    run,
  })
  const page = () => readings.store.getState().page
  const faster = (by: 1 | -1): void => {
    const at = SPEEDS.indexOf(sound.getState().speed) + by
    if (SPEEDS[at] !== undefined) player.set({ speed: SPEEDS[at] }, page())
  }
  const louder = (by: number): void => player.setLoudness(Math.min(1, Math.max(0, sound.getState().loudness + by)))
  return [
    hear("listen", " ", () => player.turn(page(), view.getState().selected)),
    hear("stopSound", "Shift+ ", () => player.stop()),
    hear("slower", "<", () => faster(-1)),
    hear("faster", ">", () => faster(1)),
    hear("louder", undefined, () => louder(0.1)),
    hear("softer", undefined, () => louder(-0.1)),
    hear("loop", undefined, () => player.setLoop(!sound.getState().loop)),
    hear("countIn", undefined, () => player.set({ countIn: !sound.getState().countIn }, page())),
  ]
}
