/** Canons of our own invention, sung from one part. */
import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { readTogether } from "../together/index.js"
import { alignVoices, fitOf, type Score, type ScoreVoice } from "./index.js"

function pageOf(text: string) {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]!.what)
  return read.value
}
function scoreOf(text: string): Score {
  const page = pageOf(text)
  return alignVoices(page, readPage(page))
}
/** "c4:2 r:1", each with its onset where asked. */
const events = ({ events }: ScoreVoice) =>
  events
    .map(event => {
      const name =
        event.kind === "rest"
          ? "r"
          : event.pitch
            ? `${event.pitch.step}${event.pitch.accidental}${event.pitch.octave}`
            : "o"
      return `${name}:${toText(event.duration)}`
    })
    .join(" ")

const PART = "C B c4 S d e B f S g a B c5 L g4"

describe("voices that follow", () => {
  test("two breves later, a fifth below; the page keeps one part", () => {
    const score = scoreOf(`voice cantus white practice=white
clef:C1 canon:"Fuga duorum temporum in subdiapente" ${PART}`)
    const [dux, comes] = score.voices
    expect(score.voices).toHaveLength(2)
    expect(events(dux!)).toBe("c4:4 d4:2 e4:2 f4:4 g4:2 a4:2 c5:4 g4:16")
    expect(events(comes!)).toBe("r:8 f3:4 g3:2 a3:2 bf3:4 c4:2 d4:2 f4:4 c4:8")
    expect(comes!.canon).toEqual({ number: 2, of: 2, words: "2 breves later, a fifth below" })
    expect(comes!.label).toBe("cantus 2")
    expect(comes!.signatures).toMatchObject([{ accidentals: [{ step: "b", accidental: "f" }] }])
    expect(score.problems).toEqual([])
  })
  test("each note names the page's sign; no id stands twice", () => {
    const score = scoreOf(`voice cantus white practice=white\ncanon:"Trinitas in unitate post tempus" ${PART}`)
    const [dux, ...others] = score.voices
    expect(others).toHaveLength(2)
    for (const other of others)
      expect(other.events.filter(one => one.sign !== null).map(one => one.sign)).toEqual(dux!.events.map(one => one.id))
    const ids = score.voices.flatMap(voice => [...voice.events, ...voice.marks].flatMap(one => one.id ?? []))
    expect(new Set(ids).size).toBe(ids.length)
  })
  test("at a signum, up to another", () => {
    const score = scoreOf(`voice cantus white practice=white
canon:"Fuga in epidiapente" C B c4 S d e signum B f S g a B c5 signum B b4 a L g4`)
    expect(events(score.voices[1]!)).toBe("r:8 g4:4 a4:2 b4:2 c5:4 d5:2 e5:2 g5:4 f5:8")
    expect(score.voices[0]!.events.at(-1)).toMatchObject({ onset: { num: 28, den: 1 } })
  })
  test("in other values, backwards, inverted", () => {
    const score = scoreOf(`voice cantus white practice=white
C B c4 S d e B f L g
decision on=1.2 voice voice=(values=2) voice=(backwards) voice=(inverted)`)
    expect(score.voices.map(events)).toEqual([
      "c4:4 d4:2 e4:2 f4:4 g4:28",
      "c4:8 d4:4 e4:4 f4:8 g4:16",
      "g4:8 f4:4 e4:2 d4:2 c4:24",
      "c4:4 b3:2 a3:2 g3:4 f3:28",
    ])
  })
  test("without rests", () => {
    const score = scoreOf(`voice cantus white practice=white\ncanon:"Clama ne cesses" C B c4 rB S d rS e B f`)
    expect(events(score.voices[0]!)).toBe("c4:4 d4:2 e4:2 f4:4")
  })
  test("a voice in values three times as long has bars of its own from its entry on; in doubled ones it has those of the part", () => {
    const score = scoreOf(
      `voice cantus white practice=white\n${PART}\ndecision on=1.2 voice voice=(after=1B values=3) voice=(after=1B values=2)`,
    )
    expect(
      score.voices[2]!.mensurations.map(({ onset, periods }) => [onset, periods[0]].map(one => toText(one!))),
    ).toEqual([["0", "4"]])
    expect(
      score.voices[1]!.mensurations.map(({ onset, periods }) => [onset, periods[0]].map(one => toText(one!))),
    ).toEqual([
      ["0", "4"],
      ["4", "12"],
    ])
  })
})

describe("a mensuration canon", () => {
  const HEAD = "voice contra white practice=white\n"
  test("two signs at the head: a voice under each", () => {
    const score = scoreOf(`${HEAD}O C B c4 S d e f B g`)
    expect(score.voices.map(events)).toEqual(["c4:6 d4:2 e4:2 f4:2 g4:6", "c4:4 d4:2 e4:2 f4:2 g4:8"])
    expect(score.voices.map(voice => voice.canon!.words)).toEqual(["under O", "under C"])
    expect(score.voices.map(voice => voice.signs.map(({ written }) => written))).toMatchObject([
      [{ sign: "O" }],
      [{ sign: "C" }],
    ])
    expect(score.voices.map(voice => toText(voice.mensurations[0]!.periods[0]!))).toEqual(["6", "4"])
    expect(score.problems).toEqual([])
  })
  test("a sign in the voice's definition and the same or another one after it are no canon", () => {
    expect(scoreOf(`${HEAD}O mens:modus=2 B c4`).voices).toHaveLength(1)
    expect(scoreOf(`${HEAD}O C:within B c4`).voices).toHaveLength(1)
  })
  test("with an interval", () => {
    const score = scoreOf(`${HEAD}canon:"In epidiatessaron" O C B c4 S d e f B g`)
    expect(score.voices.map(voice => voice.canon!.words)).toEqual(["under O", "a fourth above, under C"])
  })
})

describe("a tenor written once and sung several times", () => {
  const TENOR = `voice tenor black practice=ars-nova
clef:C4 mens:modusmaior=2:modus=2:tempus=2:prolatio=2 canon:"Tenor dicitur ter, secundo per semi, tertio per quartam partem" L d3 B e f L g`
  test("one statement after another, shorter and shorter", () => {
    const [tenor] = scoreOf(TENOR).voices
    expect(events(tenor!)).toBe("d3:8 e3:4 f3:4 g3:8 d3:4 e3:2 f3:2 g3:4 d3:2 e3:1 f3:1 g3:2")
    expect(tenor!.events.map(({ id }) => id).slice(4, 6)).toEqual(["1.4.time2", "1.5.time2"])
    expect(tenor!.events.findIndex(event => event.kind === "note" && event.held)).toBe(11)
  })
  test("meets the other voices", () => {
    const cantus = `voice cantus black practice=ars-nova\nC ${"B a4 ".repeat(10)} L a\n`
    const page = pageOf(`${cantus}\n${TENOR}`)
    const { readings } = readTogether(page)
    const score = alignVoices(page, readings)
    expect(score.fit).toMatchObject({ together: true, durations: ["48", "42"] })
    expect(score.voiceFits.map(({ finalOnset }) => toText(finalOnset))).toEqual(["40", "40"])
    const short = pageOf(`${cantus.replace("B a4 ", "")}\n${TENOR}`)
    expect(fitOf(readPage(short))).toMatchObject({
      together: false,
      firstParting: { onset: "36", signs: ["1.11", "2.7"] },
    })
  })
})

describe("what is not understood is told, with a way to say it", () => {
  test.each([
    ['canon:"Otia dant vitia"', "canon-not-understood"],
    ['canon:"Fuga in epidiapente"', "canon-entry-missing"],
    ['canon:"Fuga duorum temporum in diapente"', "canon-supposed"],
  ])("%s: %s", (canon, code) => {
    const page = pageOf(`voice cantus white practice=white\n${canon} ${PART}`)
    const problems = readPage(page)[0]!.problems
    expect(problems.map(one => one.code)).toEqual([code])
    expect(problems[0]!.mend).toContain("resolutio decide FILE")
  })
  test("what an editor says goes before what the page says", () => {
    const page = pageOf(
      `voice cantus white practice=white\ncanon:"Otia dant vitia" ${PART}\ndecision on=1.1 voice=(without-rests)`,
    )
    const [reading] = readPage(page)
    expect(reading!.problems).toEqual([])
    expect(reading!.canon).toMatchObject({ from: "decision", because: ["1.1"] })
  })
})
