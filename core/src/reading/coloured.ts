/** What coloration does to the figures of a stretch: a part is lost, or another mensuration holds (option colourMap). */
import { colourEffects, type Measuring, type Mensuration, type Settings } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"

const MAPPED: Readonly<Record<string, "modusMinor" | "tempus" | "prolatio">> = {
  "perfect-modus": "modusMinor",
  "perfect-tempus": "tempus",
  "perfect-prolatio": "prolatio",
}

/** Whether coloured notes stand under another mensuration. */
export const isMapped = (settings: Settings): boolean => (settings["colourMap"] ?? "lose-a-third") !== "lose-a-third"

/** The mensuration where colour begins or ends: one division is turned into the other. */
export function turned(measuring: Measuring, settings: Settings): Measuring {
  const division = MAPPED[settings["colourMap"]!]!
  return { ...measuring, [division]: measuring[division] === 3 ? 2 : 3 }
}

/** Sets down what colour leaves of each figure. */
export function applyColour(
  figures: readonly DraftFigure[],
  mensuration: Mensuration,
  settings: Settings,
  rules: ReadonlySet<string>,
): void {
  if (!figures.some(f => f.coloured)) return
  colourEffects(figures, mensuration, settings, rules).forEach((effect, i) => {
    if (effect === undefined) return
    figures[i]!.colouredTicks = effect.ticks
    figures[i]!.colourRule = effect.rule
  })
}
