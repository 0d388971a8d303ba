/** A motet as an MEI file, in the manner of one encoder or another. */
import { randomFrom } from "../../../reading/testing/random.js"
import { inHands, named, qualityOf, type Manner } from "./encoders.js"
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
  readonly faster?: "proport" | "mensur" | "staffDef" | "words"
  /** Each voice is a part of its own. */
  readonly parts?: boolean
  /** Ends of lines, guides, clefs and invisible bars stand between the notes. */
  readonly lines?: boolean
  readonly manners?: ReadonlySet<Manner>
}

const NO_MANNERS: ReadonlySet<Manner> = new Set()

const STEPS = ["c", "d", "e", "f", "g", "a", "b"]

export function meiOf(motet: Motet, hand: Hand = {}): string {
  const heights = heightsOf(motet, randomFrom(hand.seed ?? 1))
  const order = hand.order ?? motet.voices.map((_, v) => v)
  const staffDefs = order.map((v, i) => staffDef(motet, v, i + 1, hand)).join("\n")
  const staves = order.map((v, i) => layersOf(motet, v, heights[v]!, i + 1, hand))
  const manners = hand.manners ?? NO_MANNERS
  const common = manners.has("scoreDef") && inScoreDef(hand) ? levelsOf(motet.voices[0]!.mensuration, hand) : ""
  const [open, shut] = manners.has("nested")
    ? ['<staffGrp symbol="bracket"><staffGrp>', "</staffGrp></staffGrp>"]
    : ["<staffGrp>", "</staffGrp>"]
  const score = (defined: string, sung: readonly (readonly string[])[]): string =>
    `<scoreDef${common}>${open}\n${defined}\n${shut}</scoreDef>${sectionsOf(sung)}`
  const part = (v: number): string =>
    `<part n="${v + 1}">${score(staffDef(motet, v, 1, hand), [layersOf(motet, v, heights[v]!, 1, hand)])}</part>`
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
  const practice = hand.named
    ? ` notationsubtype="${motet.practice.replace("-", ".")}"${options.length > 0 ? ` type="${options.join(" ")}"` : ""}`
    : ""
  const manners = hand.manners ?? NO_MANNERS
  const same = manners.has("scoreDef") && levels === levelsOf(motet.voices[0]!.mensuration, hand)
  const stated = where === "staffDef" && !same ? levels : ""
  const child = where === "child" ? `<mensur${levels}/>` : ""
  const [told, inside] = manners.has("labels") ? ["", `<label>${label}</label>`] : [` label="${label}"`, ""]
  return `<staffDef n="${n}"${told} lines="5" notationtype="mensural.black" clef.shape="C" clef.line="3"${stated}${practice}>${inside}${child}</staffDef>`
}

function layersOf(motet: Motet, v: number, heights: readonly (number | undefined)[], n: number, hand: Hand): string[] {
  const { figures, mensuration } = motet.voices[v]!
  const mensur = hand.mensur === "layer" ? `<mensur${levelsOf(mensuration, hand)}/>` : ""
  let text = ""
  let open: string | undefined
  figures.forEach((figure, i) => {
    const group = groupOf(figure)
    if (open !== undefined && group !== open) text += "</ligature>\n"
    text += before(figure, n, hand)
    if (open === undefined && hand.lines && i % 17 === 16) text += betweenLines(i)
    if (open === undefined && i % 40 === 39) text += betweenPages(i, hand)
    if (group !== undefined && group !== open) text += openLigature(group, hand)
    open = group
    const quality = hand.manners?.has("quality") && i % 3 === 1 ? qualityOf(figure, motet, v) : ""
    const one = element(figure, heights[i], `v${v}-${i}`, open === undefined && hand.syllables === true, hand, quality)
    text += inHands(one, i, hand.manners ?? NO_MANNERS)
  })
  if (open !== undefined) text += "</ligature>"
  if (hand.manners?.has("double-bar")) text += '<barLine form="dbl"/>'
  return (mensur + text).split(CUT)
}

const groupOf = ({ ligature, conjunctura }: Figure): string | undefined =>
  conjunctura !== undefined ? `c${conjunctura}` : ligature === undefined ? undefined : String(ligature)

/** The mensuration stands in the definition of the score where it stands in those of the staves otherwise. */
const inScoreDef = ({ mensur }: Hand): boolean => (mensur ?? "staffDef") === "staffDef"

const openLigature = (group: string, { manners }: Hand): string =>
  group.startsWith("c")
    ? '<ligature type="coniunctura">'
    : manners?.has("recta")
      ? '<ligature form="recta">'
      : "<ligature>"

/** The page or column ends, and with it the section. */
function betweenPages(i: number, { manners }: Hand): string {
  const page = manners?.has("pages") ? `<pb n="${i}r"/><cb n="1"/><sb/>` : ""
  return page + (manners?.has("sections") ? CUT : "")
}

const CUT = "\n<!-- cut -->\n"

/** By staff, what stands in its layers; a section ends where the source turns its page, in each voice somewhere else. */
function sectionsOf(staves: readonly (readonly string[])[]): string {
  const count = Math.min(...staves.map(one => one.length))
  return Array.from({ length: count }, (_, k) => {
    const inside = staves.map((layers, i) => {
      const own = k === count - 1 ? layers.slice(k).join("") : layers[k]!
      return `<staff n="${i + 1}"><layer n="1">${own}</layer></staff>`
    })
    return `<section>\n${inside.join("\n")}\n</section>`
  }).join("\n")
}

const betweenLines = (i: number): string =>
  `<custos pname="c" oct="4"/><sb/><clef shape="C" line="${3 + (i % 2)}"/><barLine form="invis"/>`

/** What stands before a figure. */
function before({ faster, signum }: Figure, n: number, hand: Hand): string {
  const congruence = signum ? '<anchoredText type="signum.congruentiae"/>' : ""
  if (faster === undefined) return congruence
  const ways = {
    proport: `<proport num="${faster}" numbase="1"/>`,
    mensur: `<mensur num="${faster}" numbase="1"/>`,
    words: `<anchoredText type="canon">${faster === 3 ? "per tertium" : "per semi"}</anchoredText>`,
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

const words = (manners: ReadonlySet<Manner>): string =>
  manners.has("verses")
    ? '<verse n="1"><syl wordpos="i" con="d">la</syl></verse><verse n="2"><syl>lo</syl></verse><refrain><syl>le</syl></refrain>'
    : "<verse><syl>la</syl></verse>"

function element(
  figure: Figure,
  height: number | undefined,
  id: string,
  syllable: boolean,
  hand: Hand,
  quality: string,
): string {
  const manners = hand.manners ?? NO_MANNERS
  const form = hand.dots === "told" ? ` form="${figure.adds ? "aug" : "div"}"` : ""
  const told = figure.dotted && !figure.rest && manners.has("attribute-dots") ? ' dots="1"' : ""
  const inner = figure.dotted && !figure.rest && !told && manners.has("inner-dots")
  const dot = figure.dotted && !told && !inner ? `<dot${form}/>` : ""
  const dur = figure.breves
    ? manners.has("long-rests")
      ? `longa" spaces="${figure.breves}`
      : `${figure.breves}B`
    : named(LETTERS[figure.letter], manners)
  const color = inked(figure, hand)
  if (figure.rest) return `<rest xml:id="${id}" dur="${dur}"${color}/>${dot}\n`
  const pitch = `pname="${STEPS[height! % 7]}" oct="${Math.floor(height! / 7)}"`
  const lig = figure.ligature !== undefined && manners.has("lig") ? ' lig="recta"' : ""
  const more = `${lig}${figure.fermata ? ' fermata="above"' : ""}`
  const inside =
    (figure.stemDown ? '<stem dir="down"/>' : "") +
    (figure.plica ? '<plica dir="down"/>' : "") +
    (inner ? `<dot${form}/>` : "") +
    (figure.melisma || syllable || figure.ligature !== undefined ? "" : words(manners))
  const note = `<note xml:id="${id}" dur="${dur}" ${pitch}${color}${told}${quality}${more}>${inside}</note>${dot}`
  return syllable && !figure.melisma ? `<syllable><syl>la</syl>${note}</syllable>\n` : `${note}\n`
}
