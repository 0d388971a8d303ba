// What scripts/fuzz.mjs calls on a spoilt file, and random good files to spoil. Bundled by it; nothing else uses this.
import * as fc from "fast-check"
import type { Problem } from "../../core/src/base/index.js"
import { csvCannotCarry, readingsCsv } from "../../core/src/formats/csv/index.js"
import { modernMei, modernMeiCannotCarry } from "../../core/src/formats/mei/modern/index.js"
import { midiCannotCarry, writeMidi } from "../../core/src/formats/midi/index.js"
import { markersOf, markersVtt } from "../../core/src/formats/markers/index.js"
import { musicXmlCannotCarry, writeMusicXml } from "../../core/src/formats/musicxml/index.js"
import { newMei, readMei, withPage, writeMei } from "../../core/src/formats/mei/index.js"
import type { Page } from "../../core/src/page/index.js"
import { parseShorthand, printShorthand } from "../../core/src/page/shorthand/index.js"
import { readingJson } from "../../core/src/formats/json/index.js"
import { readPage, type Reading } from "../../core/src/reading/index.js"
import { alignVoices, fitOf, TooShort } from "../../core/src/score/index.js"
import { perform, synthScript } from "../../core/src/performance/index.js"
import { readTogether } from "../../core/src/together/index.js"
import { lawfulPiece, LAWFUL_PRACTICES } from "../../core/src/together/testing/lawful-piece.js"
import { randomPage } from "../../core/src/page/testing/random-page.js"

export interface Answer {
  readonly ending: "read" | "read with problems" | "refused" | "crash"
  readonly detail?: string
}

export { fuzzAsked } from "./fuzz-asked.js"

/** Some good files of each kind, the same for the same seed. */
export function generated(seed: number): Record<string, string[]> {
  const pages = fc.sample(randomPage(), { seed, numRuns: 40 })
  return {
    mei: pages.map(newMei),
    shorthand: pages.map(printShorthand),
    asked: [...pages, ...piecesLike(seed)].map(printShorthand),
  }
}

/** Small lawful pieces: without them slips would be looked for where nothing makes sense. */
const piecesLike = (seed: number): Page[] =>
  LAWFUL_PRACTICES.flatMap((practice, i) =>
    [2, 3].map(voices => lawfulPiece(seed + i, { practice, voices, notes: 25 }).page),
  )

export function fuzzMei(text: string): Answer {
  const result = readMei(text, "fuzz.mei")
  if (!result.ok) return refused(result.problems)
  const { value: document } = result
  if (writeMei(document) !== text) return { ending: "crash", detail: "an unedited file came back changed" }
  const voice = document.page.voices[0]
  if (voice && voice.signs.length > 0) {
    const signs = voice.signs.slice(1)
    const edited: Page = {
      ...document.page,
      voices: document.page.voices.map(one => (one === voice ? { ...one, signs } : one)),
    }
    const again = readMei(writeMei(withPage(document, edited)))
    if (!again.ok) return { ending: "crash", detail: `an edited file cannot be read: ${again.problems[0]?.what}` }
  }
  if (!readMei(newMei(document.page)).ok && document.page.voices.length > 0)
    return { ending: "crash", detail: "the page cannot be written and read again" }
  return sounded(document.page) ?? read(result.problems)
}

export function fuzzShorthand(text: string): Answer {
  const result = parseShorthand(text, "fuzz.figurae")
  if (!result.ok) return refused(result.problems)
  printShorthand(result.value)
  return sounded(result.value) ?? read(result.problems)
}

/** Whatever was let in has to be read, alone and together, and told as data. */
function sounded(page: Page): Answer | undefined {
  const { readings } = readTogether(page)
  const signs = readings.flatMap(one => one.signs)
  if (signs.length !== readPage(page).flatMap(one => one.signs).length)
    return { ending: "crash", detail: "read together, a page has other signs than alone" }
  const broken = signs.find(one => !Number.isFinite(one.doubt) || one.duration.num < 0)
  if (broken) return { ending: "crash", detail: `${broken.id} has no sensible duration or doubt` }
  JSON.stringify(readingJson(page, readings, fitOf(readings)))
  return written(page, readings)
}

/** And it has to go into every file for others, unless it has times that no sign can show. */
function written(page: Page, readings: readonly Reading[]): Answer | undefined {
  try {
    return inEveryForm(page, readings)
  } catch (error) {
    if (error instanceof TooShort) return undefined
    throw error
  }
}

function inEveryForm(page: Page, readings: readonly Reading[]): Answer | undefined {
  const score = alignVoices(page, readings)
  readingsCsv(readings)
  writeMidi(score)
  modernMei(score)
  const text = writeMusicXml(score)
  const ids = [...text.matchAll(/<(?:note|score-part|score-instrument) id="([^"]*)"/g)].map(([, id]) => id)
  if (new Set(ids).size < ids.length) return { ending: "crash", detail: "an id stands twice in MusicXML" }
  const told = [
    musicXmlCannotCarry(score),
    modernMeiCannotCarry(score),
    midiCannotCarry(score),
    csvCannotCarry(page, readings),
  ]
  if (told.flat().some(one => !one.endsWith(".")))
    return { ending: "crash", detail: "what a file cannot carry is no sentence" }
  return heard(page, readings)
}

/** And to be heard: every tone at a moment, of a pitch, and let go after it began. */
function heard(page: Page, readings: readonly Reading[]): Answer | undefined {
  const score = alignVoices(page, readings, { repeats: "written" })
  const performed = perform(score, { equivalence: "breve" })
  if (!performed.ok) return wordless(performed.problems)
  const { sounds, duration } = performed.value
  const odd = sounds.find(
    one => !(one.start >= 0 && one.end > one.start && one.end <= duration + 1e-6 && one.hertz > 0),
  )
  if (odd) return { ending: "crash", detail: `a tone from ${odd.start} to ${odd.end} s at ${odd.hertz} Hz` }
  const { setup, messages } = synthScript(performed.value)
  const wrong = [...setup, ...messages].find(({ bytes }) => bytes.some(byte => !(byte >= 0 && byte < 256)))
  if (wrong) return { ending: "crash", detail: `no MIDI message: ${wrong.bytes.join(" ")}` }
  markersVtt(score.title, markersOf(performed.value, score, readings))
  return wordless(performed.value.problems)
}

function refused(problems: readonly Problem[]): Answer {
  if (problems.length === 0) return { ending: "crash", detail: "refused without a word" }
  return wordless(problems) ?? { ending: "refused" }
}

function read(problems: readonly Problem[]): Answer {
  return wordless(problems) ?? { ending: problems.length > 0 ? "read with problems" : "read" }
}

/** A problem must say what, and how to mend it; "could not be read" without a cause is a crash that was caught. */
function wordless(problems: readonly Problem[]): Answer | undefined {
  const bad = problems.find(one => one.code === "mei-unreadable" || !one.what || !one.mend)
  return bad && { ending: "crash", detail: `${bad.code}: ${bad.what}` }
}
