/** What can be said of a mensuration sign beside what its word draws. */
import type { MensurationSign } from "../signs.js"
import { initial } from "./properties-common.js"
import { choice, composed, levelled, numeric, textual, truth, type Property } from "./property.js"
import { LARGEST, lookUp, readWhole } from "./tokens.js"
import { areDrawable, isDrawable, MOST_DOTS, MOST_STROKES } from "./words.js"

const DIVISIONS: Record<string, 2 | 3> = { "2": 2, "3": 3, imperfect: 2, perfect: 3, minor: 2, major: 3 }
/** A level of a mensuration sign: `:tempus=3`, also `:tempus=perfect`. */
const division = (
  key: "modusMaior" | "modusMinor" | "tempus" | "prolatio",
  ...names: string[]
): Property<MensurationSign> => ({
  kind: "flag",
  names,
  form: `:${names[0]}=2 or :${names[0]}=3`,
  read: ({ value }) => {
    const found = lookUp(DIVISIONS, value ?? "")
    return found && { [key]: found }
  },
  write: sign => (sign[key] ? `:${names[0]}=${sign[key]}` : ""),
})
const counted = (key: "dots" | "strokes", most: number): Property<MensurationSign> => ({
  ...numeric<MensurationSign>(key, 1, most),
  write: sign => (sign[key] === undefined || (sign.sign && isDrawable(sign[key])) ? "" : `:${key}=${sign[key]}`),
})
const figures: Property<MensurationSign> = {
  ...composed<MensurationSign>(
    "figures",
    "figures",
    args => {
      const all = args.map(({ name, value }) => (value === undefined ? readWhole(name, 1, LARGEST) : undefined))
      return all.length === 0 || all.includes(undefined) ? undefined : all
    },
    (all: readonly number[]) => all.map(String),
  ),
}
const drawnFigures: Property<MensurationSign> = {
  ...figures,
  write: sign => (sign.sign && areDrawable(sign.figures) ? "" : figures.write(sign)),
}
export const MENSURATION: readonly Property<MensurationSign>[] = [
  counted("dots", MOST_DOTS),
  counted("strokes", MOST_STROKES),
  truth<MensurationSign>("reversed"),
  choice<MensurationSign, "orientation">("orientation", { "90CW": "90CW", "90CCW": "90CCW" }),
  drawnFigures,
  textual<MensurationSign>("letter"),
  division("modusMaior", "modusmaior", "maximodus"),
  division("modusMinor", "modus", "modusminor"),
  division("tempus", "tempus"),
  division("prolatio", "prolatio"),
  numeric<MensurationSign>("num", 1, LARGEST),
  numeric<MensurationSign>("numbase", 1, LARGEST),
  levelled<MensurationSign>("level"),
  textual<MensurationSign>("shape"),
  initial<MensurationSign>(),
]
