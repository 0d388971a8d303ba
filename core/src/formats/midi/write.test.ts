/** What another reader finds in the file, against our exact times. */
import { parseMidi, type MidiData } from "midi-file"
import { describe, expect, test } from "vitest"
import { minus, plus, ratio, times, toNumber, type Rational } from "../../base/index.js"
import { alignVoices, wholesPerUnit, type Score } from "../../score/index.js"
import { CANONS, FORMS } from "../../score/testing/canons.js"
import { DEMOS, demoPiece } from "../../score/testing/demos.js"
import { PIECES } from "../../score/testing/pieces.js"
import { checkRandom } from "../../score/testing/random-scores.js"
import { signsFrom, testPiece } from "../../score/testing/readings.js"
import { writeMidi } from "./index.js"

const read = (score: Score): MidiData => parseMidi(writeMidi(score))

/** Start, end and key of each note of a track, in ticks. */
function notesOf(track: MidiData["tracks"][number]): [number, number, number][] {
  const notes: [number, number, number][] = []
  const open = new Map<number, number>()
  let tick = 0
  for (const event of track) {
    tick += event.deltaTime
    if (event.type === "noteOn") open.set(event.noteNumber, tick)
    if (event.type === "noteOff") notes.push([open.get(event.noteNumber) ?? NaN, tick, event.noteNumber])
  }
  return notes
}

const STEPS: Readonly<Record<string, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 }

const ALTERS: Readonly<Record<string, number>> = { f: -1, s: 1 }

/** How many voices were held against the file. */
function checkTimes(score: Score): number {
  const midi = read(score)
  const ticks = midi.header.ticksPerBeat!
  const exact = (time: Rational) => toNumber(times(times(time, wholesPerUnit(score)), ratio(4 * ticks)))
  const problems: string[] = []
  score.voices.forEach((voice, i) => {
    const sounding = voice.events.flatMap(event => {
      if (event.kind !== "note") return []
      const { pitch, plica } = event
      const key = 12 * (pitch!.octave + 1) + STEPS[pitch!.step]! + (ALTERS[pitch!.accidental ?? ""] ?? 0)
      const end = plus(event.onset, event.duration)
      // where the reading leaves the share open it is a third, as is usual today when plicas are sung (common practice)
      const share = plica && (plica.duration ?? times(event.duration, ratio(1, 3)))
      const other = plica?.pitch
      if (!share || !other) return [[event.onset, end, key] as const]
      return [
        [event.onset, minus(end, share), key] as const,
        [minus(end, share), end, 12 * (other.octave + 1) + STEPS[other.step]!] as const,
      ]
    })
    const found = notesOf(midi.tracks[i + 1]!)
    expect(found.length).toBe(sounding.length)
    sounding.forEach(([from, to, key], n) => {
      const [start, stop, number] = found[n]!
      if (Math.abs(start - exact(from)) > 0.5 || Math.abs(stop - exact(to)) > 0.5 || number !== key)
        problems.push(`${voice.label} ${n}: ${start} ${stop} ${number}, exact ${exact(from)} ${exact(to)} ${key}`)
    })
  })
  expect(problems).toEqual([])
  return score.voices.length
}

describe("read back, each note begins and ends where the score says", () => {
  test.each(Object.entries(PIECES))("%s", (_, make) => {
    const { page, readings } = make()
    checkTimes(alignVoices(page, readings))
  })
  test.each(DEMOS)("demo %s", name => {
    const { page, readings } = demoPiece(name)
    checkTimes(alignVoices(page, readings))
  })
  test.each([...CANONS, ...FORMS])("in canon, or repeats as %s", (_, make) => {
    checkTimes(make())
  })
  test("200 random pieces", () => {
    expect(checkRandom(200, checkTimes)).toBeGreaterThan(200)
  })
})

describe("the file", () => {
  const { page, readings } = PIECES.oldMotet()
  const midi = read(alignVoices(page, readings))
  test("is of type 1, with a track of tempo and one for each voice", () => {
    expect(midi.header).toMatchObject({ format: 1, numTracks: 4 })
    expect(midi.tracks[0]!.filter(event => event.type === "setTempo")).toMatchObject([{ microsecondsPerBeat: 600_000 }])
    expect(midi.tracks[0]).toContainEqual(
      expect.objectContaining({ type: "timeSignature", numerator: 3, denominator: 4 }),
    )
  })
  test("says the speed and what is counted at each mensuration of the first voice", () => {
    const { page, readings } = PIECES.threeSigns()
    const [conductor] = read(alignVoices(page, readings)).tracks
    const told = conductor!.flatMap((event, i) => {
      const ticks = conductor!.slice(0, i + 1).reduce((total, one) => total + one.deltaTime, 0)
      if (event.type === "setTempo") return [[ticks / 480, event.microsecondsPerBeat]]
      return event.type === "timeSignature"
        ? [[ticks / 480, `${event.numerator}/${event.denominator}`, event.metronome]]
        : []
    })
    // Minims keep their speed, 240 in a minute: eighths here. The click is a quarter, then a dotted one.
    expect(told).toEqual([
      [0, 500_000],
      [0, "3/4", 24],
      [12, 500_000],
      [12, "6/8", 36],
    ])
  })
  test("names the voices and has the words", () => {
    const names = midi.tracks.flatMap(track => track.flatMap(event => (event.type === "trackName" ? [event.text] : [])))
    expect(names).toEqual(["Veni ver novum (invented)", "Triplum", "Motetus", "Tenor"])
    const words = midi.tracks[1]!.flatMap(event => (event.type === "lyrics" ? [event.text] : []))
    expect(words.slice(0, 4)).toEqual(["Ve-", "ni", "ver", "no-"])
  })
  test("has ticks that hold thirds and fifths exactly", () => {
    expect(midi.header.ticksPerBeat! % 15).toBe(0)
  })
  test("keeps to the nearest tick where no number of ticks would hold all times", () => {
    const { page, readings } = testPiece([
      { label: "a", signs: signsFrom("d4:1/7 d4:1/9 d4:1/11 d4:1/13 d4:1/17 d4:3") },
    ])
    const score = alignVoices(page, readings)
    expect(read(score).header.ticksPerBeat).toBe(20160)
    checkTimes(score)
  })
  test("writes names in letters that its reader knows", () => {
    const { page, readings } = testPiece([{ label: "Ténor ſūb 音", signs: signsFrom("d4:1") }])
    const [, track] = read(alignVoices(page, readings)).tracks
    expect(track!.find(event => event.type === "trackName")).toMatchObject({ text: "Ténor sub ?" })
  })
})
