/** What each step of a series finds, in a sentence. All is counted from the reading. */
import { plus, toText, ZERO, type SignId } from "../../base/index.js"
import { levelsOf, type TimedSign } from "../../drawing/index.js"
import { LEVEL_NAMES } from "../../reading/index.js"
import { mensurationInWords } from "./mensuration-words.js"
import { NEAR, type Passage } from "./passage.js"
import { perfectionsOf } from "./strip/counts.js"

type StepNumber = 1 | 2 | 3 | 4 | 5

export function stepSentences(passage: Passage, steps: ReadonlyMap<SignId, StepNumber>): string[] {
  const voice = passage.voices[0]!
  const signs = voice.signs.filter(one => one.at >= passage.from - NEAR && one.at < passage.to - NEAR)
  const own = (test: (one: TimedSign) => boolean) => signs.filter(one => !one.held && test(one))
  const whole = own(one => steps.get(one.sign.id) === 2)
  const cut = own(one => one.reading.rule.startsWith("imperfectio"))
  const coloured = own(one => /colo/.test(one.reading.rule))
  const doubled = own(one => one.reading.rule.startsWith("alteratio"))
  const span = voice.spans.findLast(one => one.at <= passage.from + NEAR)
  const perfect = span !== undefined && levelsOf(span).perfect
  const shape = [
    counted(
      signs.filter(one => one.sign.kind === "note"),
      "note",
    ),
    rests(signs),
    span ? mensurationInWords(span.span) : "",
  ]
  return [
    `${shape.filter(one => one !== "").join("; ")}.`,
    perfect ? wholeOnes(whole) : "Nothing is counted in threes here.",
    [cut.length > 0 ? `${subject(cut, "gives", "give")} way to smaller neighbours.` : "", colouredOnes(coloured)]
      .filter(one => one !== "")
      .join(" ") || "None: nothing gives a third.",
    doubled.length > 0
      ? `${subject(doubled, "is", "are")} doubled, so that the perfection is full.`
      : "None: no perfection is short.",
    result(passage, signs, perfect),
  ]
}

const subject = (signs: readonly TimedSign[], one: string, many: string): string =>
  `${inWords(signs)} ${signs.length === 1 ? one : many}`
const wholeOnes = (whole: readonly TimedSign[]): string =>
  whole.length === 0 ? "No sign fills one by itself." : `${subject(whole, "stays", "stay")} whole.`
const colouredOnes = (coloured: readonly TimedSign[]): string =>
  coloured.length === 0 ? "" : `${subject(coloured, "is", "are")} coloured.`

/** "30 minims in five perfections, and the final." */
function result(passage: Passage, signs: readonly TimedSign[], perfect: boolean): string {
  const found = perfectionsOf(passage.voices[0]!, signs).length
  const total = signs.reduce((sum, one) => (one.held ? sum : plus(sum, one.duration)), ZERO)
  const unit = passage.score.unit === "minima" ? "minims" : "tempora"
  const name = perfect ? "perfection" : "group"
  const final = signs.some(one => one.held) ? ", and the final" : ""
  return `${toText(total)} ${unit} in ${number(found)} ${name}${found === 1 ? "" : "s"}${final}.`
}

const NUMBERS = "no one two three four five six seven eight nine ten eleven twelve".split(" ")
export const number = (n: number): string => NUMBERS[n] ?? String(n)
const counted = (signs: readonly TimedSign[], name: string): string =>
  signs.length === 0 ? "" : capital(`${number(signs.length)} ${name}${signs.length === 1 ? "" : "s"}`)
const rests = (signs: readonly TimedSign[]): string => {
  const n = signs.filter(one => one.sign.kind === "rest").length
  return n === 0 ? "" : `${number(n)} rest${n === 1 ? "" : "s"}`
}
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** "Two breves and a semibreve". */
function inWords(signs: readonly TimedSign[]): string {
  const names = new Map<string, number>()
  for (const { reading } of signs) {
    const name = `${LEVEL_NAMES[reading.level ?? ""] ?? "note"}${reading.kind === "rest" ? " rest" : ""}`
    names.set(name, (names.get(name) ?? 0) + 1)
  }
  const parts = [...names].map(([name, n]) => `${number(n)} ${name}${n === 1 ? "" : "s"}`)
  const last = parts.pop()!
  return capital(parts.length === 0 ? last : `${parts.join(", ")} and ${last}`)
}
