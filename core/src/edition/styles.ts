/** House styles: conventions that go well together, called by what they do. */
import { conventionsWith, type EditionConventions } from "./conventions.js"

export interface HouseStyle {
  readonly name: string
  /** One sentence: whom it serves, and how it looks. */
  readonly description: string
  readonly conventions: EditionConventions
}

/** The first is the usual one. */
export const HOUSE_STYLES: readonly HouseStyle[] = [
  {
    name: "own-bars",
    description:
      "Each voice with the bars of its own mensuration, ligatures and coloration bracketed: for seeing how the voices are measured.",
    conventions: conventionsWith({}),
  },
  {
    name: "lines-between-staves",
    description:
      "Lines between the staves only and notes written whole, so that no bar cuts a syncopation; brackets for ligatures and coloration.",
    conventions: conventionsWith({ bars: "between" }),
  },
  {
    name: "ticks",
    description:
      "Small ticks in place of bar lines and notes written whole, finals as one long note: close to a part book, in score.",
    conventions: conventionsWith({ bars: "ticks", finals: "long" }),
  },
  {
    name: "for-singers",
    description:
      "Bar lines on every staff, ties, many cautionary accidentals and the likely proposed ones, and no brackets: to sing from at sight.",
    conventions: conventionsWith({
      bars: "full",
      ligatures: "none",
      coloration: "none",
      supplied: "small",
      cautionary: "many",
      signs: "none",
      divisionStrokes: "none",
      ficta: "likely",
    }),
  },
  {
    name: "for-study",
    description:
      "All that can be shown of the source: own bars, brackets, plicas with their time, folio and line ends; no accidental that is not needed.",
    conventions: conventionsWith({ plicas: "dotted-slur", sourceBreaks: "lines", cautionary: "none", signs: "all" }),
  },
]

/** The style of this name. */
export function styleNamed(name: string): HouseStyle | undefined {
  return HOUSE_STYLES.find(style => style.name === name)
}
