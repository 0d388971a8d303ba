/** A motet as an MEI file, in the manner of one encoder or another. */
import { randomFrom } from "../../../reading/testing/random.js"
import { LETTERS, type Figure, type Mensuration, type Motet } from "./figures.js"
import { heightsOf } from "./heights.js"

/** What encoders do differently. */
export interface Hand {
  /** Where the mensuration stands. */
  readonly mensur?: "staffDef" | "child" | "layer" | "none"
  /** Levels that are stated (all). */
  readonly levels?: readonly (keyof Mensuration)[]
  /** Staves by order of the page (as the voices stand). */
  readonly order?: readonly number[]
  /** The practice is named. */
  readonly named?: boolean
  /** Notes stand in syllable elements. */
  readonly syllables?: boolean
  /** Seed of the pitches (1). */
  readonly seed?: number
}

const STEPS = ["c", "d", "e", "f", "g", "a", "b"]

export function meiOf(motet: Motet, hand: Hand = {}): string {
  const heights = heightsOf(motet, randomFrom(hand.seed ?? 1))
  const order = hand.order ?? motet.voices.map((_, v) => v)
  const staffDefs = order.map((v, i) => staffDef(motet, v, i + 1, hand)).join("\n")
  const staves = order.map((v, i) => staff(motet, v, heights[v]!, i + 1, hand)).join("\n")
  return `<?xml version="1.0" encoding="UTF-8"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead><fileDesc><titleStmt><title>${motet.name}</title></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv><score><scoreDef><staffGrp>
${staffDefs}
</staffGrp></scoreDef><section>
${staves}
</section></score></mdiv></body></music></mei>
`
}

function levelsOf(mensuration: Mensuration, { levels }: Hand): string {
  return Object.entries(mensuration)
    .filter(([name]) => levels === undefined || levels.includes(name as keyof Mensuration))
    .map(([name, value]) => ` ${name}="${value}"`)
    .join("")
}

function staffDef(motet: Motet, v: number, n: number, hand: Hand): string {
  const { label, mensuration } = motet.voices[v]!
  const where = hand.mensur ?? "staffDef"
  const levels = levelsOf(mensuration, hand)
  const options = Object.entries(motet.options).map(([name, value]) => `option:${name}:${value}`)
  const named = hand.named
    ? ` notationsubtype="${motet.practice.replace("-", ".")}"${options.length > 0 ? ` type="${options.join(" ")}"` : ""}`
    : ""
  const stated = where === "staffDef" ? levels : ""
  const child = where === "child" ? `<mensur${levels}/>` : ""
  return `<staffDef n="${n}" label="${label}" lines="5" notationtype="mensural.black" clef.shape="C" clef.line="3"${stated}${named}>${child}</staffDef>`
}

function staff(motet: Motet, v: number, heights: readonly (number | undefined)[], n: number, hand: Hand): string {
  const { figures, mensuration } = motet.voices[v]!
  const mensur = hand.mensur === "layer" ? `<mensur${levelsOf(mensuration, hand)}/>` : ""
  let text = ""
  let open: number | undefined
  figures.forEach((figure, i) => {
    if (open !== undefined && figure.ligature !== open) text += "</ligature>"
    if (figure.ligature !== undefined && figure.ligature !== open) text += "<ligature>"
    open = figure.ligature
    text += element(figure, heights[i], `v${v}-${i}`, open === undefined && hand.syllables === true)
  })
  if (open !== undefined) text += "</ligature>"
  return `<staff n="${n}"><layer n="1">${mensur}${text}</layer></staff>`
}

function element(figure: Figure, height: number | undefined, id: string, syllable: boolean): string {
  const dot = figure.dotted ? "<dot/>" : ""
  const dur = figure.breves ? `${figure.breves}B` : LETTERS[figure.letter]
  const color = figure.red ? ' colored="true" color="red"' : ""
  if (figure.rest) return `<rest xml:id="${id}" dur="${dur}"${color}/>${dot}\n`
  const pitch = `pname="${STEPS[height! % 7]}" oct="${Math.floor(height! / 7)}"`
  const inside =
    (figure.stemDown ? '<stem dir="down"/>' : "") +
    (figure.plica ? '<plica dir="down"/>' : "") +
    (figure.melisma || syllable || figure.ligature !== undefined ? "" : "<verse><syl>la</syl></verse>")
  const note = `<note xml:id="${id}" dur="${dur}" ${pitch}${color}>${inside}</note>${dot}`
  return syllable && !figure.melisma ? `<syllable><syl>la</syl>${note}</syllable>\n` : `${note}\n`
}
