/** What coloration does: tiny passages that the engine reads as they are, and in plain ink. */
import { done, failed, type Result } from "../../base/index.js"
import type { Note, Page, Sign } from "../../page/index.js"
import type { Plate } from "./frame.js"
import { lineInWords } from "./in-words.js"
import { asStretch, ownPage, passageOf } from "./passage.js"
import { drawPanels, type Panel } from "./panels.js"
import { captionFor } from "./sources.js"

interface ColourCase {
  readonly title: string
  readonly term: string
  readonly line: string
  /** Of the coloured notes, for the caption; the reading must say the same. */
  readonly rule: string
  readonly says: string
}

const BLACK: readonly ColourCase[] = [
  {
    title: "Red breves in perfect tempus",
    term: "hemiola",
    line: "clef:C3 O B d4 red{B c d c} B d",
    rule: "coloratio",
    says: "Each loses a third: three in the time of two.",
  },
  {
    title: "Red semibreves in major prolation",
    term: "",
    line: "clef:C3 C. S d4 red{S c d c} S d",
    rule: "coloratio",
    says: "The same one level below.",
  },
  {
    title: "Void, where there is no red ink",
    term: "nota vacua",
    line: "clef:C3 O B d4 void{B c S d} B c",
    rule: "coloratio",
    says: "A coloured breve and a semibreve fill one perfection.",
  },
  {
    title: "Red semibreves where nothing is perfect",
    term: "",
    line: "clef:C3 C red{S c4 d c} B d",
    rule: "coloratio",
    says: "Three stand for two here as well.",
  },
]

const WHITE: readonly ColourCase[] = [
  {
    title: "Black breves in perfect tempus",
    term: "hemiola",
    line: "clef:C3 O B d4 black{B c d c} B d",
    rule: "coloratio",
    says: "Each loses a third: three in the time of two.",
  },
  {
    title: "Black semibreves in imperfect tempus",
    term: "sesquialtera",
    line: "clef:C3 C black{S c4 d c} B d",
    rule: "coloratio",
    says: "Nothing is perfect here, and yet three stand for two.",
  },
  {
    title: "A black pair",
    term: "minor color",
    line: "clef:C3 C black{B c4 S d} B c",
    rule: "minor-color",
    says: "It sounds as if the first had a dot.",
  },
  {
    title: "A single black breve",
    term: "",
    line: "clef:C3 C B d4 B c:black B d",
    rule: "isolated-black",
    says: "By itself it loses a quarter, as taught about 1540.",
  },
]

export function colorationPlate(practice: string): Result<Plate> {
  const cases = practice === "ars-nova" ? BLACK : practice === "white" ? WHITE : undefined
  if (!cases)
    return failed({
      code: "no-such-figure",
      what: `In the practice ${practice} coloration has no rules, so there is no figure of it.`,
      where: { place: "--practice" },
      mend: "Ask for --practice ars-nova or --practice white.",
      severity: "error",
    })
  const panels = cases.map(one => panelOf(one, practice))
  return done({
    headline: practice === "white" ? "Black among white: what colour takes" : "Red among black: what colour takes",
    says: "",
    caption: [captionFor([...new Set(cases.map(one => one.rule))].map(rule => [practice, rule]))],
    note: "invented lines",
    black: practice !== "white",
    alt: `What coloration does to length, in minims. ${panels
      .map(
        one =>
          `${one.title}: ${lineInWords(one.passage)}. In plain ink: ${lineInWords(one.other!.passage)}. ${one.says}`,
      )
      .join(" ")}`,
    draw: room => drawPanels(panels, room),
  })
}

function panelOf({ title, term, line, rule, says }: ColourCase, practice: string): Panel {
  const page = ownPage(`voice line ${practice === "white" ? "white" : "black"} practice=${practice}\n${line}`)
  const passage = asStretch(passageOf(page))
  const rules = passage.readings[0]!.signs.map(one => one.rule)
  if (!rules.includes(rule)) throw new Error(`figure of coloration: ${rule} is not in ${rules.join(", ")}`)
  return {
    title,
    term,
    passage,
    says,
    named: "coloured",
    other: { named: "plain", passage: asStretch(passageOf(inPlainInk(page))) },
  }
}

function inPlainInk(page: Page): Page {
  const plain = (sign: Sign): Sign => {
    if (sign.kind === "note" || sign.kind === "rest") return { ...sign, coloration: "none" }
    if (sign.kind !== "ligature") return sign
    return {
      ...sign,
      members: sign.members.map(one => (one.kind === "note" ? ({ ...one, coloration: "none" } satisfies Note) : one)),
    }
  }
  return { ...page, voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.map(plain) })) }
}
