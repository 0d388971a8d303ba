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
  /** How colour is told of (both in words and by ink). */
  readonly colour?: "colored" | "ink" | "both" | "void" | "numbers"
  /** Whether dots are said to add or to part (not). */
  readonly dots?: "plain" | "told"
  /** What says that a voice goes on faster (proport). */
  readonly faster?: "proport" | "mensur" | "staffDef"
  /** Each voice is a part of its own. */
  readonly parts?: boolean
  /** Ends of lines, guides, clefs and invisible bars stand between the notes. */
  readonly lines?: boolean
}

const STEPS = ["c", "d", "e", "f", "g", "a", "b"]

export function meiOf(motet: Motet, hand: Hand = {}): string {
  const heights = heightsOf(motet, randomFrom(hand.seed ?? 1))
  const order = hand.order ?? motet.voices.map((_, v) => v)
  const staffDefs = order.map((v, i) => staffDef(motet, v, i + 1, hand)).join("\n")
  const staves = order.map((v, i) => staff(motet, v, heights[v]!, i + 1, hand)).join("\n")
  const score = (defined: string, sung: string): string =>
    `<scoreDef><staffGrp>\n${defined}\n</staffGrp></scoreDef><section>\n${sung}\n</section>`
  const part = (v: number): string =>
    `<part n="${v + 1}">${score(staffDef(motet, v, 1, hand), staff(motet, v, heights[v]!, 1, hand))}</part>`
  const body = hand.parts
    ? `<parts>${order.map(part).join("\n")}</parts>`
    : `<score>${score(staffDefs, staves)}</score>`
  return `<?xml version="1.0" encoding="UTF-8"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead><fileDesc><titleStmt><title>${motet.name}</title></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv>${body}</mdiv></body></music></mei>
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
  let open: string | undefined
  figures.forEach((figure, i) => {
    const group = groupOf(figure)
    if (open !== undefined && group !== open) text += "</ligature>\n"
    text += before(figure, n, hand)
    if (open === undefined && hand.lines && i % 17 === 16) text += betweenLines(i)
    if (group !== undefined && group !== open)
      text += group.startsWith("c") ? '<ligature type="coniunctura">' : "<ligature>"
    open = group
    text += element(figure, heights[i], `v${v}-${i}`, open === undefined && hand.syllables === true, hand)
  })
  if (open !== undefined) text += "</ligature>"
  return `<staff n="${n}"><layer n="1">${mensur}${text}</layer></staff>`
}

const groupOf = ({ ligature, conjunctura }: Figure): string | undefined =>
  conjunctura !== undefined ? `c${conjunctura}` : ligature === undefined ? undefined : String(ligature)

const betweenLines = (i: number): string =>
  `<custos pname="c" oct="4"/><sb/><clef shape="C" line="${3 + (i % 2)}"/><barLine form="invis"/>`

/** What stands before a figure. */
function before({ faster, signum }: Figure, n: number, hand: Hand): string {
  const congruence = signum ? '<anchoredText type="signum.congruentiae"/>' : ""
  if (faster === undefined) return congruence
  const ways = {
    proport: `<proport num="${faster}" numbase="1"/>`,
    mensur: `<mensur num="${faster}" numbase="1"/>`,
    staffDef: `<staffDef n="${n}" proport.num="${faster}" proport.numbase="1"/>`,
  }
  return congruence + ways[hand.faster ?? "proport"]
}

function inked({ red, rest, letter }: Figure, { colour = "both" }: Hand): string {
  if (!red || rest) return ""
  const numbers = letter === "L" || letter === "S" ? ' num="3" numbase="2"' : ""
  const ways = {
    colored: ' colored="true"',
    ink: ' color="red"',
    both: ' colored="true" color="red"',
    void: ' colored="true" head.fill="void"',
    numbers: ` colored="true"${numbers}`,
  }
  return ways[colour]
}

function element(figure: Figure, height: number | undefined, id: string, syllable: boolean, hand: Hand): string {
  const form = hand.dots === "told" ? ` form="${figure.adds ? "aug" : "div"}"` : ""
  const dot = figure.dotted ? `<dot${form}/>` : ""
  const dur = figure.breves ? `${figure.breves}B` : LETTERS[figure.letter]
  const color = inked(figure, hand)
  if (figure.rest) return `<rest xml:id="${id}" dur="${dur}"${color}/>${dot}\n`
  const pitch = `pname="${STEPS[height! % 7]}" oct="${Math.floor(height! / 7)}"`
  const inside =
    (figure.stemDown ? '<stem dir="down"/>' : "") +
    (figure.plica ? '<plica dir="down"/>' : "") +
    (figure.melisma || syllable || figure.ligature !== undefined ? "" : "<verse><syl>la</syl></verse>")
  const note = `<note xml:id="${id}" dur="${dur}" ${pitch}${color}>${inside}</note>${dot}`
  return syllable && !figure.melisma ? `<syllable><syl>la</syl>${note}</syllable>\n` : `${note}\n`
}
