/** Markers of a piece, and the three forms in which they are written. */
import { describe, expect, test } from "vitest"
import { ratio } from "../../base/index.js"
import { excerpt, perform } from "../../performance/index.js"
import { alignVoices } from "../../score/index.js"
import { demoPiece } from "../../score/testing/demos.js"
import { PIECES } from "../../score/testing/pieces.js"
import { markersCsv, markersJson, markersOf, markersVtt } from "./index.js"

function piece({ page, readings } = PIECES.threeSigns()) {
  const score = alignVoices(page, readings)
  const performed = perform(score, { tempo: { value: "minima", perMinute: 60 } })
  if (!performed.ok) throw new Error("not performed")
  return { score, readings, performance: performed.value }
}

describe("markers", () => {
  const { score, readings, performance } = piece()
  const markers = markersOf(performance, score, readings)
  test("one for each tone, in time, with voice, sign, bar and rule", () => {
    expect(markers.length).toBe(performance.sounds.length)
    // Minims last a second; the first bar of the cantus is one of six minims.
    const cantus = markers.filter(one => one.voice === "Cantus")
    expect(cantus.slice(0, 6)).toMatchObject([
      { start: 0, place: "Cantus 1", id: "1.1", bar: 1, pitch: "d4", rule: "as-written", kind: "note" },
      { start: 2, place: "Cantus 2" },
      { start: 3, place: "Cantus 3" },
      { start: 4, place: "Cantus 4" },
      { start: 7, place: "Cantus 5" },
      { start: 8, place: "Cantus 6" },
    ])
    const starts = markers.map(one => one.start)
    expect(starts).toEqual(starts.toSorted((a, b) => a - b))
    const bars = cantus.map(one => one.bar!)
    expect(bars).toEqual(bars.toSorted((a, b) => a - b))
    expect(new Set(bars).size).toBeGreaterThan(2)
  })
  test("of real readings have real rules", () => {
    const real = piece(demoPiece("4-four-prolations.figurae"))
    const rules = new Set(markersOf(real.performance, real.score, real.readings).map(one => one.rule))
    expect(rules).toContain("similis-ante-similem")
  })
  test("of a loop say which time round", () => {
    const loop = excerpt(performance, { from: ratio(6), to: ratio(12), times: 2 })
    const cantus = markersOf(loop, score, readings).filter(one => one.voice === "Cantus")
    const half = cantus.length / 2
    expect(cantus.map(one => one.passage)).toEqual(cantus.map((_, n) => (n < half ? "1" : "2")))
    expect(cantus[half]!.start - cantus[0]!.start).toBeCloseTo(6, 9)
  })
  test("leave out voices that are not heard", () => {
    const voices = performance.voices.map(voice => ({ ...voice, heard: voice.label === "Tenor" }))
    expect(new Set(markersOf({ ...performance, voices }, score, readings).map(one => one.voice))).toEqual(
      new Set(["Tenor"]),
    )
  })
})

describe("written", () => {
  const { score, readings, performance } = piece()
  const [first] = markersOf(performance, score, readings)
  const odd = { ...first!, voice: "=Ténor <b> & Co --> x", place: 'a, "b"', start: 3725.0004, end: 3725.0004 }
  test("as CSV: names of columns, a line each, quoted as RFC 4180 asks, no formulas", () => {
    expect(markersCsv([first!, odd]).split("\r\n")).toEqual([
      "start,end,voice,place,id,kind,pitch,bar,rule,passage",
      "0,2,Cantus,Cantus 1,1.1,note,d4,1,as-written,",
      `3725.0004,3725.0004,'=Ténor <b> & Co --> x,"a, ""b""",1.1,note,d4,1,as-written,`,
      "",
    ])
  })
  test("as JSON", () => {
    const read: unknown = JSON.parse(markersJson("A title", [first!]))
    expect(read).toMatchObject({
      format: "resolutio-markers",
      version: 1,
      title: "A title",
      markers: [{ start: 0, end: 2, bar: 1 }],
    })
  })
  test("as WebVTT: cues with times, speakers escaped, an end after every beginning", () => {
    expect(markersVtt("A\ntitle", [first!, odd])).toBe(
      `WEBVTT A title

1
00:00:00.000 --> 00:00:02.000
<v Cantus>Cantus 1, d4, bar 1, as-written</v>

2
01:02:05.000 --> 01:02:05.001
<v =Ténor &lt;b&gt; &amp; Co → x>a, "b", d4, bar 1, as-written</v>
`,
    )
  })
})
