/** The engraver's times, sign by sign, against our exact ones. */
import { enableLogToBuffer, VerovioToolkit } from "verovio/esm"
import createVerovioModule from "verovio/wasm"
import { beforeAll, describe, expect, test } from "vitest"
import { plus, times, toNumber, type Rational } from "../../../base/index.js"
import { runs } from "../../../base/testing/runs.js"
import { conventionsWith, notatedBy, type EditionConventions } from "../../../edition/index.js"
import { WAYS } from "../../../edition/testing/ways.js"
import { alignVoices, lasting, type NotatedScore, type Score, type ScoreEvent } from "../../../score/index.js"
import { CANONS, FORMS } from "../../../score/testing/canons.js"
import { DEMOS, demoPiece } from "../../../score/testing/demos.js"
import { everything } from "../../../score/testing/everything.js"
import { PIECES } from "../../../score/testing/pieces.js"
import { withHands } from "../../../score/testing/hands.js"
import { checkRandom } from "../../../score/testing/random-scores.js"
import { randomPiece } from "../../../score/testing/readings.js"
import { modernMei, partId, scoreId } from "./index.js"

interface TimemapEntry {
  readonly qstamp: number
  readonly on?: readonly string[]
  readonly off?: readonly string[]
  readonly restsOn?: readonly string[]
  readonly restsOff?: readonly string[]
}

let toolkit: VerovioToolkit
beforeAll(async () => {
  const engine = await createVerovioModule()
  enableLogToBuffer(true, engine)
  toolkit = new VerovioToolkit(engine)
  toolkit.setOptions({ breaks: "none", pageHeight: 60_000, header: "none" })
})

/** Quarter notes at which each id begins and ends. */
function engravedTimes(mei: string) {
  expect(toolkit.loadData(mei)).toBeTruthy()
  const begin = new Map<string, number>()
  const end = new Map<string, number>()
  for (const entry of toolkit.renderToTimemap({ includeRests: true }) as TimemapEntry[]) {
    for (const id of [...(entry.on ?? []), ...(entry.restsOn ?? [])]) begin.set(id, entry.qstamp)
    for (const id of [...(entry.off ?? []), ...(entry.restsOff ?? [])]) end.set(id, entry.qstamp)
  }
  return { begin, end }
}

/** A 480th of a quarter. */
const TICK = 1 / 480

/** Where the engraver lets notes end that are written whole: with their first share of the bar, in whole notes. */
function shortEnds({ blocks }: NotatedScore): ReadonlyMap<string, Rational> {
  const signs = blocks.flatMap(({ layers }) => layers.flat().flatMap(item => (item.kind === "sign" ? [item] : [])))
  return new Map(
    signs.flatMap(({ event, last, share, start }) =>
      share && last && event.id !== null ? [[event.id, plus(start, lasting(share[0]!))]] : [],
    ),
  )
}

/** Each note by itself; rests of the page that follow one another together: a silent bar has one rest for all of them. */
function withRestsJoined(events: readonly ScoreEvent[]): ScoreEvent[][] {
  const runs: ScoreEvent[][] = []
  for (const event of events) {
    const open = runs.at(-1)?.[0]
    if (event.kind === "rest" && event.id !== null && open?.kind === "rest" && open.id !== null)
      runs.at(-1)!.push(event)
    else runs.push([event])
  }
  return runs
}

function checkTimes(given: Score, chosen: Partial<EditionConventions> = {}) {
  const { begin, end } = engravedTimes(modernMei(given, chosen))
  const conventions = conventionsWith(chosen)
  const notated = notatedBy(given, conventions)
  const { score } = notated
  const short = shortEnds(notated)
  const inQuarters = (time: Rational) => 4 * toNumber(time)
  const quarters = (time: Rational) => inQuarters(times(time, notated.wholesPerUnit))
  const wrong: string[] = []
  let checked = 0
  const lastEnd = (id: string): number => {
    let part = 0
    while (begin.has(partId(id, part + 1))) part++
    return end.get(partId(id, part)) ?? NaN
  }
  for (const voice of score.voices)
    for (const run of withRestsJoined(voice.events)) {
      const [event] = run
      if (!event || event.id === null) continue
      checked += run.length
      const ids = run.flatMap(({ id }) => (id !== null && begin.has(scoreId(id)) ? [id] : []))
      const from = Math.min(...ids.map(id => begin.get(scoreId(id))!))
      const to = Math.max(...ids.map(lastEnd))
      const whole = short.get(event.id)
      const start = quarters(event.onset)
      const last = run.at(-1)!
      const stop = whole ? inQuarters(whole) : quarters(plus(last.onset, last.duration))
      if (!(Math.abs(from - start) < TICK && Math.abs(to - stop) < TICK))
        wrong.push(`${event.id}: engraved ${from} to ${to}, exact ${start} to ${stop}`)
    }
  expect(wrong).toEqual([])
  return checked
}

describe("onsets and ends are the exact ones", () => {
  test.each(Object.entries(PIECES))("%s", (_, make) => {
    const { page, readings } = make()
    expect(checkTimes(alignVoices(page, readings))).toBeGreaterThan(10)
  })
  test.each(DEMOS)("demo %s", name => {
    const { page, readings } = demoPiece(name)
    expect(checkTimes(alignVoices(page, readings))).toBeGreaterThan(10)
  })
  test.each([...CANONS, ...FORMS])("in canon, or repeats as %s", (_, make) => {
    expect(checkTimes(make())).toBeGreaterThan(10)
  })
  test("repeats and endings", () => {
    expect(checkTimes(everything())).toBeGreaterThan(10)
  })
  test(
    "200 random pieces",
    () => {
      expect(checkRandom(200, checkTimes)).toBeGreaterThan(5000)
    },
    runs(240_000),
  )
  test.each(WAYS)("bars and notes %s", (_, chosen) => {
    let checked = checkTimes(everything(), chosen)
    for (const make of Object.values(PIECES)) {
      const { page, readings } = make()
      checked += checkTimes(alignVoices(page, readings), chosen)
    }
    checked += checkRandom(runs(4), score => checkTimes(score, chosen))
    expect(checked).toBeGreaterThan(200)
  })
  test.each(["brackets", "small"] as const)("what an editor supplied in %s", supplied => {
    let checked = 0
    for (const make of [...Object.values(PIECES), ...Array.from({ length: 2 }, (_, i) => () => randomPiece(i + 1))]) {
      const { page, readings } = make()
      const score = alignVoices(withHands(page), readings)
      expect(score.voices.some(({ events }) => events.some(({ hand }) => hand !== undefined))).toBe(true)
      checked += checkTimes(score, { supplied })
      expect(warningsFor(modernMei(score, { supplied }))).toBe("")
    }
    expect(checked).toBeGreaterThan(100)
  })
  test("other reductions too", () => {
    const { page, readings } = PIECES.threeSigns()
    const score = alignVoices(page, readings)
    const { begin } = engravedTimes(modernMei(score, { reduction: 2 }))
    const last = score.voices[0]!.events.at(-1)!
    expect(begin.get(scoreId(last.id!))).toBeCloseTo(toNumber(last.onset), 9)
  })
})

describe("the engraver draws without a warning", () => {
  test.each(Object.entries(PIECES))("%s", (_, make) => {
    const { page, readings } = make()
    expect(warningsFor(modernMei(alignVoices(page, readings)))).toBe("")
  })
  test.each(WAYS)("bars and notes %s", (_, chosen) => {
    expect(warningsFor(modernMei(everything(), chosen))).toBe("")
    for (let seed = 1; seed <= 10; seed++) {
      const { page, readings } = randomPiece(seed)
      expect(`${seed}: ${warningsFor(modernMei(alignVoices(page, readings), chosen))}`).toBe(`${seed}: `)
    }
  })
  test.each([...CANONS, ...FORMS])("in canon, or repeats as %s", (_, make) => {
    expect(warningsFor(modernMei(make()))).toBe("")
  })
  test("repeats, endings, words", () => {
    expect(warningsFor(modernMei(everything()))).toBe("")
  })
  test("40 random pieces", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const { page, readings } = randomPiece(seed)
      expect(`${seed}: ${warningsFor(modernMei(alignVoices(page, readings)))}`).toBe(`${seed}: `)
    }
  })
})

function warningsFor(mei: string): string {
  toolkit.loadData(mei)
  // Each step begins its complaints anew.
  const loading = toolkit.getLog()
  toolkit.renderToSVG(1, false)
  return loading + toolkit.getLog()
}
