/** For scripts/fuzz.mjs: a page is spoilt once more, and all is asked of it that is asked of a page: measures, repeats, slips, decisions. */
import { ratio, signId, toText, type Problem } from "../../core/src/base/index.js"
import { fitJson, mensurationJson, tenorJson } from "../../core/src/formats/json/index.js"
import { newMei, readMei } from "../../core/src/formats/mei/index.js"
import { applyChange, everySign, type Decision, type Page } from "../../core/src/page/index.js"
import { parseShorthand, printShorthand } from "../../core/src/page/shorthand/index.js"
import { explainLong, explainShort, type Reading } from "../../core/src/reading/index.js"
import { randomFrom } from "../../core/src/reading/testing/random.js"
import { alignVoices, fitOf, fitSentence, TooShort } from "../../core/src/score/index.js"
import {
  chooseTenor,
  emend,
  findMensurations,
  findRepetition,
  fitsUnder,
  planOf,
  propose,
  readTogether,
  supplyFound,
} from "../../core/src/together/index.js"
import type { Answer } from "./fuzz-targets.js"
import { spoiltPage } from "./page-injuries.js"

/** More signs than that take longer than one wants to wait for a search for slips; that is measured elsewhere. */
const MOST_SIGNS = 90

export function fuzzAsked(text: string): Answer {
  const result = parseShorthand(text, "fuzz.figurae")
  if (!result.ok) return { ending: "refused" }
  const numbers = randomFrom([...text].reduce((sum, letter) => (31 * sum + letter.codePointAt(0)!) % 1_000_003, 7))
  const random = (): number => numbers.next()
  const page = shortened(spoiltPage(result.value, random))
  // a name or word of the page may look like a hole
  if (HOLE.test(printShorthand(page))) return { ending: "read" }
  const wrong = measured(page) ?? repeated(page) ?? decided(page, random) ?? mended(page)
  return wrong === undefined ? { ending: "read" } : { ending: "crash", detail: `${wrong}\n${printShorthand(page)}` }
}

function shortened(page: Page): Page {
  const most = Math.floor(MOST_SIGNS / Math.max(1, page.voices.length))
  return { ...page, voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.slice(0, most) })) }
}

function measured(page: Page): string | undefined {
  const found = findMensurations(page, { evidence: true })
  const fits = fitsUnder(page, found, { evidence: true })
  const odd = found.voices.find(
    one =>
      !(one.doubt >= 0 && one.doubt <= 1) || one.candidates.some(({ chance }) => !(chance >= 0 && chance <= 1.0001)),
  )
  if (odd) return `${odd.label} has no sensible doubt of its mensuration`
  const supplied = applyChange(page, supplyFound(page, found))
  if (!supplied.ok) return wordless(supplied.problems) ?? "what was found cannot be supplied"
  return unspeakable(mensurationJson(page, found, fits, []))
}

function repeated(page: Page): string | undefined {
  const { readings } = readTogether(page)
  const tenor = chooseTenor(page, readings)
  if (tenor === undefined) return undefined
  const repetition = findRepetition(page, tenor)
  return unspeakable([planOf(repetition), tenorJson(page, [{ reading: tenor, repetition }], [])])
}

/** A few signs are decided; then all is as it was when the decisions are gone. */
function decided(page: Page, random: () => number): string | undefined {
  const signs = page.voices.flatMap(voice => [...everySign(voice.signs)])
  const bare: Page = { ...page, decisions: [] }
  const before = readTogether(bare)
  const decisions = Array.from({ length: 3 }, (_, i): Decision | undefined => {
    const sign = signs[Math.floor(random() * signs.length)]
    const base = { id: signId(`asked-${i}`), sign: sign?.id ?? signId("none") }
    if (sign === undefined) return undefined
    if (sign.kind === "dot") return { ...base, dot: "division" }
    if (sign.kind !== "note" && sign.kind !== "rest") return undefined
    const odd = ratio(1 + Math.floor(random() * 9), 1 + Math.floor(random() * 3))
    return random() < 0.5 ? { ...base, duration: odd } : { ...base, not: [odd] }
  }).filter(one => one !== undefined)
  const after = readTogether({ ...bare, decisions }, {}, before)
  const told = after.readings.flatMap(one => one.problems)
  for (const one of decisions) {
    const read = after.readings.flatMap(reading => reading.signs).find(({ id }) => id === one.sign)
    const isKept = one.duration === undefined || (read !== undefined && toText(read.duration) === toText(one.duration))
    const isTold = told.some(({ code, where }) => code.startsWith("decision-") && where?.sign === one.sign)
    // of two decisions on one sign the later holds
    if (!isKept && !isTold && decisions.filter(({ sign }) => sign === one.sign).length < 2)
      return `${one.sign}: what was decided is neither kept nor told of`
  }
  const again = readTogether(bare, {}, after)
  const lengths = (of: typeof before): string =>
    of.readings.map(reading => reading.signs.map(({ duration }) => toText(duration)).join(" ")).join("; ")
  if (lengths(again) !== lengths(before)) return "without its decisions the page is read otherwise than before them"
  return stories({ ...bare, decisions }, after.readings, random) ?? wordless(told)
}

/** Every sign has a sentence, and some their whole story. */
function stories(page: Page, readings: readonly Reading[], random: () => number): string | undefined {
  const all = readings.flatMap(one => one.signs.map(sign => explainShort(one, sign)))
  const voice = Math.floor(random() * readings.length)
  const sign = readings[voice]?.signs.find(({ number }) => number > 0)
  const long = sign === undefined ? [] : explainLong(page, voice, readings[voice]!, sign.id)
  return unspeakable([fitSentence(fitOf(readings)), ...all, ...long])
}

function mended(page: Page): string | undefined {
  const proposal = propose(page, { most: 60, steps: 2 })!
  const wrong = unspeakable(fitJson(page, proposal, []))
  if (wrong !== undefined) return wrong
  for (const one of proposal.emendations.slice(0, 3)) {
    const made = emend(page, one, { why: one.why })
    if (!made.ok) {
      const silent = wordless(made.problems)
      if (silent !== undefined) return silent
      continue
    }
    const read = readMei(newMei(made.value.page))
    if (!read.ok) return `an emended page cannot be read from MEI: ${read.problems[0]?.what}`
    // of absurd numbers there are some that no text can say
    if (comesBack(page) && !comesBack(made.value.page)) return "an emended page comes back changed"
  }
  return scored(page)
}

function comesBack(page: Page): boolean {
  const text = printShorthand(page)
  const parsed = parseShorthand(text)
  return parsed.ok && printShorthand(parsed.value) === text
}

function scored(page: Page): string | undefined {
  try {
    return wordless(alignVoices(page, readTogether(page).readings).problems)
  } catch (error) {
    if (error instanceof TooShort) return undefined
    throw error
  }
}

const HOLE = /undefined|NaN|Infinity|\[object|\(\)|, ,/

/** What a person would read has no hole in it. */
function unspeakable(told: unknown): string | undefined {
  const hole = HOLE.exec(JSON.stringify(told) ?? "")
  return hole
    ? `what is told has a hole: …${JSON.stringify(told).slice(Math.max(0, hole.index - 80), hole.index + 40)}…`
    : undefined
}

function wordless(problems: readonly Problem[]): string | undefined {
  const bad = problems.find(one => !one.what || !one.mend || unspeakable([one.what, one.mend]) !== undefined)
  return bad && `${bad.code} tells nothing: ${bad.what} ${bad.mend}`
}
