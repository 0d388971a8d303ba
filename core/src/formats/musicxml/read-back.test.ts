/** What other readers find in the file: the same notes, times and words. */
import { DOMParser, type Element } from "@xmldom/xmldom"
import { parse, type NoteEntry } from "musicxml-io"
import { enableLogToBuffer, VerovioToolkit } from "verovio/esm"
import createVerovioModule from "verovio/wasm"
import { beforeAll, describe, expect, test } from "vitest"
import { runs } from "../../base/testing/runs.js"
import { conventionsWith, type EditionConventions } from "../../edition/index.js"
import { WAYS } from "../../edition/testing/ways.js"
import { alignVoices, meterChanges, notate, type NotatedScore, type Score } from "../../score/index.js"
import { CANONS, FORMS } from "../../score/testing/canons.js"
import { DEMOS, demoPiece } from "../../score/testing/demos.js"
import { everything } from "../../score/testing/everything.js"
import { PIECES } from "../../score/testing/pieces.js"
import { withHands } from "../../score/testing/hands.js"
import { checkRandom } from "../../score/testing/random-scores.js"
import { randomPiece } from "../../score/testing/readings.js"
import { partId, scoreId } from "../mei/modern/index.js"
import { writeMusicXml } from "./index.js"
import { differences, expectedOf, withRestsJoined, type Sounding } from "./testing/expected.js"
import { notatedForFile } from "./whole.js"

/** A 480th of a quarter. */
const TICK = 1 / 480

const own = (expected: readonly Sounding[]) => expected.map(one => ({ ...one, id: scoreId(one.id) }))

/** Where that reader keeps the id of an element. */
const ID = "_id"

/** By a reader of MusicXML alone. Tied notes are put together; grace notes last nothing. */
function readByLibrary(text: string): Sounding[][] {
  return parse(text).parts.map(part => {
    const found: Sounding[] = []
    let now = 0
    let divisions = 1
    for (const measure of part.measures) {
      divisions = measure.attributes?.divisions ?? divisions
      for (const entry of measure.entries) {
        if (entry.type === "attributes") divisions = entry.attributes.divisions ?? divisions
        if (entry.type !== "note" || entry.grace) continue
        const to = now + entry.duration / divisions
        const isMore = (entry.ties ?? (entry.tie ? [entry.tie] : [])).some(tie => tie.type === "stop")
        const before = found.at(-1)
        const isSplitRest = entry.rest && before && entry[ID].startsWith(`${before.id}.part`)
        if ((isMore || isSplitRest) && before) found[found.length - 1] = { ...before, to }
        else if (!entry.rest || entry[ID].includes(".")) found.push(sounding(entry, now, to))
        now = to
      }
    }
    return found
  })
}

function sounding(entry: NoteEntry, from: number, to: number): Sounding {
  const { pitch } = entry
  const syllables = (entry.lyrics ?? []).flatMap(lyric =>
    (lyric.textElements ?? [lyric]).map(one => `${lyric.number} ${one.syllabic} ${one.text}`),
  )
  const name = entry.rest ? "rest" : pitch ? `${pitch.step.toLowerCase()}${pitch.alter ?? 0} ${pitch.octave}` : "?"
  return { id: entry[ID], from, to, pitch: name, syllables }
}

let toolkit: VerovioToolkit
beforeAll(async () => {
  const engine = await createVerovioModule()
  enableLogToBuffer(true, engine)
  toolkit = new VerovioToolkit(engine)
  toolkit.setOptions({ breaks: "none", pageHeight: 60_000, header: "none", xmlIdSeed: 1, expandNever: true })
})

interface TimemapEntry {
  readonly qstamp: number
  readonly on?: readonly string[]
  readonly off?: readonly string[]
  readonly restsOn?: readonly string[]
  readonly restsOff?: readonly string[]
}

/** By the engraver: its times, and pitches and words as it has them in MEI. */
function readByEngraver(text: string, expected: readonly Sounding[]): Sounding[] {
  expect(toolkit.loadData(text)).toBeTruthy()
  // It knows no signs named by SMuFL among the directions.
  expect(toolkit.getLog().replaceAll("[Warning] MusicXML import: Unsupported direction-type 'symbol'\n", "")).toBe("")
  const begin = new Map<string, number>()
  const end = new Map<string, number>()
  for (const entry of toolkit.renderToTimemap({ includeRests: true }) as TimemapEntry[]) {
    for (const id of [...(entry.on ?? []), ...(entry.restsOn ?? [])]) begin.set(id, entry.qstamp)
    for (const id of [...(entry.off ?? []), ...(entry.restsOff ?? [])]) end.set(id, entry.qstamp)
  }
  const elements = byId(toolkit.getMEI({}))
  const lastEnd = (id: string): number => {
    let part = 0
    while (begin.has(partId(id, part + 1))) part++
    return end.get(partId(id, part)) ?? NaN
  }
  return withRestsJoined(expected).map(({ id, ids = [id] }) => {
    const element = elements.get(scoreId(id))
    const written = ids.filter(one => begin.has(scoreId(one)))
    return {
      id: scoreId(id),
      from: Math.min(...written.map(one => begin.get(scoreId(one))!)),
      to: Math.max(...written.map(lastEnd)),
      pitch: element ? pitchIn(element) : "missing",
      syllables: element ? syllablesIn(element) : [],
    }
  })
}

function byId(mei: string): Map<string, Element> {
  const document = new DOMParser().parseFromString(mei, "text/xml")
  const all = ["note", "rest", "mRest"].flatMap(name => [...document.getElementsByTagName(name)])
  return new Map(all.map(element => [element.getAttribute("xml:id") ?? "", element]))
}

const ACCIDENTALS: Readonly<Record<string, number>> = { f: -1, s: 1 }

function pitchIn(note: Element): string {
  if (note.tagName !== "note") return "rest"
  const step = note.getAttribute("pname")
  if (!step) return "?"
  const accid = [...note.getElementsByTagName("accid")][0]
  const sounds = [accid, note].map(one => one?.getAttribute("accid.ges") || one?.getAttribute("accid"))
  return `${step}${ACCIDENTALS[sounds.find(Boolean) ?? ""] ?? 0} ${note.getAttribute("oct")}`
}

const PLACES: Readonly<Record<string, string>> = { i: "begin", m: "middle", t: "end", s: "single" }

function syllablesIn(note: Element): string[] {
  return [...note.getElementsByTagName("verse")].flatMap(verse =>
    [...verse.getElementsByTagName("syl")].map(
      syl => `${verse.getAttribute("n")} ${PLACES[syl.getAttribute("wordpos") ?? ""]} ${syl.textContent?.trim()}`,
    ),
  )
}

/**
 * Two habits of the engraver: a small note takes a little time from the note before it; and it counts where brackets begin
 * and end by the meter of the lowest staff, so that where beats differ by voice it makes measures too long.
 */
function asEngraved(notated: NotatedScore, text: string): string {
  const { score } = notated
  const units = score.voices.flatMap((_, i) => meterChanges(notated, i).map(({ meter }) => meter.unit))
  const plain = text.replace(/<note id="[^"]*\.plica">\s*<grace[\s\S]*?<\/note>|<slur [^>]*>/g, "")
  return new Set(units).size < 2
    ? plain
    : plain.replace(/<direction [^>]*>\s*<direction-type>\s*<bracket [\s\S]*?<\/direction>/g, "")
}

function check(given: Score, chosen: Partial<EditionConventions> = {}): number {
  const text = writeMusicXml(given, chosen)
  const notated = notatedForFile(given, conventionsWith(chosen))
  const expected = expectedOf(notated)
  const byLibrary = readByLibrary(text)
  expected.forEach((voice, i) => expect(differences(own(voice), byLibrary[i]!, TICK)).toEqual([]))
  const engraved = readByEngraver(asEngraved(notated, text), expected.flat())
  expect(differences(own(expected.flat()), engraved, TICK)).toEqual([])
  return expected.flat().length
}

describe("read back by a library and by the engraver", () => {
  test.each(Object.entries(PIECES))("%s", (_, make) => {
    const { page, readings } = make()
    expect(check(alignVoices(page, readings))).toBeGreaterThan(10)
  })
  test.each(DEMOS)("demo %s", name => {
    const { page, readings } = demoPiece(name)
    expect(check(alignVoices(page, readings))).toBeGreaterThan(10)
  })
  test.each([...CANONS, ...FORMS])("in canon, or repeats as %s", (_, make) => {
    expect(check(make())).toBeGreaterThan(10)
  })
  test("everything at once", () => {
    expect(check(everything())).toBeGreaterThan(20)
  })
  test.each(WAYS)("bars and notes %s", (_, chosen) => {
    let checked = check(everything(), chosen)
    for (const make of Object.values(PIECES)) {
      const { page, readings } = make()
      checked += check(alignVoices(page, readings), chosen)
    }
    checked += checkRandom(runs(4), score => check(score, chosen))
    expect(checked).toBeGreaterThan(200)
  })
  test("the engraver goes back at the first ending and on with the second", () => {
    const text = asEngraved(notate(everything()), writeMusicXml(everything()))
    toolkit.setOptions({ expandNever: false })
    try {
      // Bars 1 to 4, again 1 to 3: the second ending begins after seven bars of two quarters.
      const second = readByEngraver(text, [{ id: "1.11", from: 0, to: 0, pitch: "", syllables: [] }])
      expect(second[0]!.from).toBe(14)
    } finally {
      toolkit.setOptions({ expandNever: true })
    }
  })
  test.each(["brackets", "small"] as const)("what an editor supplied in %s", supplied => {
    let checked = 0
    for (const make of [...Object.values(PIECES), () => randomPiece(1), () => randomPiece(2), () => randomPiece(3)]) {
      const { page, readings } = make()
      checked += check(alignVoices(withHands(page), readings), { supplied })
    }
    expect(checked).toBeGreaterThan(100)
  })
  test("random pieces", () => {
    expect(checkRandom(runs(40), check)).toBeGreaterThan(1000)
  })
})
