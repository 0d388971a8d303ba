/** What coloration does to the figures of a stretch: a part is lost, or another mensuration holds (option colourMap). */
import { colourEffects, type Measuring, type Mensuration, type Settings } from "../practices/index.js"
import { copied, type DraftFigure } from "./draft-figure.js"

type Division = "modusMinor" | "tempus" | "prolatio"
/** What is turned into the other, by what colour means. */
const MAPPED: Readonly<Record<string, readonly Division[]>> = {
  "perfect-modus": ["modusMinor"],
  "perfect-tempus": ["tempus"],
  "perfect-prolatio": ["prolatio"],
  "modus-and-tempus": ["modusMinor", "tempus"],
  "tempus-and-prolatio": ["tempus", "prolatio"],
}

/** Whether coloured notes stand under another mensuration. */
export const isMapped = (settings: Settings): boolean => (settings["colourMap"] ?? "lose-a-third") !== "lose-a-third"

/** The mensuration where colour begins or ends: divisions are turned into the other; undefined where it changes none. */
export function turned(measuring: Measuring, settings: Settings): Measuring | undefined {
  const divisions = MAPPED[settings["colourMap"]!]
  // two that are turned round make a value of the same length: there is nothing to turn where they are alike
  if (divisions?.length === 2 && measuring[divisions[0]!] === measuring[divisions[1]!]) return undefined
  return divisions?.reduce((all, name): Measuring => ({ ...all, [name]: all[name] === 3 ? 2 : 3 }), measuring)
}

/**
 * Whether colour, which makes one division imperfect that is perfect in black, only takes a third from the notes of that level and
 * above: so they are counted as they stand, and what is black beside them may be altered before them.
 */
export function takesThird(measuring: Measuring, settings: Settings): boolean {
  const divisions = MAPPED[settings["colourMap"]!]
  return divisions?.length === 1 && measuring[divisions[0]!] === 3
}

/**
 * Sets down what colour leaves of figures of which those `from` up to `to` are newly drawn. Of the others one may stand
 * in an earlier cut of the voice as well: where colour makes another of it, a copy takes its place and `changed` is told.
 */
export function applyColour(
  figures: DraftFigure[],
  { from, to }: { readonly from: number; readonly to: number },
  mensuration: Mensuration,
  settings: Settings,
  rules: ReadonlySet<string>,
  changed: (index: number) => void,
): void {
  if (!figures.some(f => f.coloured)) return
  const told = colourEffects(figures, mensuration, settings, from, to)
  for (let i = told.from; i < told.to; i++) {
    const found = told.effects.get(i)
    const effect = found !== undefined && rules.has(found.rule) ? found : undefined
    const { colouredTicks, colourRule } = figures[i]!
    if (colouredTicks === effect?.ticks && colourRule === effect?.rule) continue
    if (i < from || i >= to) {
      figures[i] = copied(figures[i]!)
      changed(i)
    }
    figures[i]!.colouredTicks = effect?.ticks
    figures[i]!.colourRule = effect?.rule
  }
}
