/** What a dot may mean: each meaning shown by a line that the engine reads with the dot and without it. */
import type { Page, Sign } from "../../page/index.js"
import type { Plate, Room } from "./frame.js"
import { lineInWords } from "./in-words.js"
import { asStretch, ownPage, passageOf, type Passage } from "./passage.js"
import { drawPanels, type Panel } from "./panels.js"
import { captionFor, optionSource } from "./sources.js"

interface DotCase {
  /** As the reading names it. */
  readonly meaning: string
  readonly title: string
  readonly term: string
  readonly practice: string
  readonly line: string
  readonly says: string
}

const CASES: readonly DotCase[] = [
  {
    meaning: "punctus-divisionis",
    title: "Division",
    term: "punctus divisionis",
    practice: "ars-nova",
    line: "clef:C3 O B d4 S c . S d B e",
    says: "It parts one perfection from the next and adds no time.",
  },
  {
    meaning: "punctus-perfectionis",
    title: "Perfection",
    term: "punctus perfectionis",
    practice: "ars-nova",
    line: "clef:C3 O B d4 . S c B d",
    says: "It keeps a note whole that would give a third.",
  },
  {
    meaning: "punctus-additionis",
    title: "Addition",
    term: "punctus additionis",
    practice: "ars-nova",
    line: "clef:C3 C B d4 . S c B d",
    says: "Where a note holds two, it adds half.",
  },
  {
    meaning: "alteratio",
    title: "Alteration",
    term: "punctus alterationis",
    practice: "white(dotOfAlteration=true)",
    line: "clef:C3 C. S d4 M c b3 . S c4",
    says: "In the sixteenth century it may mark the note that is doubled.",
  },
]

const DOT_RULES = [
  ["ars-nova", "punctus-divisionis"],
  ["ars-nova", "punctus-perfectionis"],
  ["ars-nova", "punctus-additionis"],
] as const

export function dotsPlate(): Plate {
  const shown = CASES.map(one => ({ ...one, ...readBoth(one) }))
  const panels = shown.map(({ title, term, says, passage, without }): Panel => ({
    title,
    term,
    says,
    passage,
    askedDots: true,
    named: "with it",
    other: { named: "without", passage: without },
  }))
  return {
    headline: "One dot, four meanings",
    says: "",
    caption: [[captionFor(DOT_RULES), optionSource("white", "dotOfAlteration")].join("; ")],
    note: "invented lines",
    black: true,
    alt: `What a dot may mean. ${panels
      .map(
        one =>
          `${one.title}: ${lineInWords(one.passage)}. Without the dot: ${lineInWords(one.other!.passage)}. ${one.says}`,
      )
      .join(" ")}`,
    draw: (room: Room) => drawPanels(panels, room),
  }
}

/** The line with its dot and without it; a dot that is taken for something else would be a fault of the figure. */
function readBoth({ practice, line, meaning }: DotCase): { passage: Passage; without: Passage } {
  const notation = practice.startsWith("white") ? "white" : "black"
  const page = ownPage(`voice line ${notation} practice=${practice}\n${line}`)
  const passage = asStretch(passageOf(page))
  const taken = passage.readings[0]!.signs.find(one => one.kind === "dot")?.takenFor
  if (taken !== meaning) throw new Error(`figure of dots: a ${meaning} was read as ${taken}`)
  return { passage, without: asStretch(passageOf(withoutDots(page))) }
}

export const withoutDots = (page: Page): Page => ({
  ...page,
  voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.filter((sign: Sign) => sign.kind !== "dot") })),
})
