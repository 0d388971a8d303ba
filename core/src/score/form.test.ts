/** Songs of our own invention in the fixed forms: what is sung in which order, with which words (common practice). */
import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { alignVoices, type Score } from "./index.js"
import type { AlignOptions } from "./ordered.js"

function scoreOf(text: string, repeats: AlignOptions["repeats"] = "written"): Score {
  const read = parseShorthand(text)
  if (!read.ok || read.problems.length > 0) throw new Error(read.problems[0]!.what)
  return alignVoices(read.value, readPage(read.value), { repeats })
}
/** Pitches with what is sung on them; words of several stanzas with a stroke between. */
const sung = ({ voices }: Score, voice = 0) =>
  voices[voice]!.events.map(event => {
    if (event.kind === "rest") return "r"
    const words = event.syllables.map(({ text }) => text).join("/")
    return `${event.pitch!.step}${words && `(${words})`}`
  }).join(" ")

const HEAD = "voice cantus white practice=white\nC "
const TENOR = "\nvoice tenor white practice=white\nC "

/** Twice to the same words or to others, with an open and a closed ending; then a second part and the refrain. */
const BALLADE = `${HEAD}repeat-start B c4 d ending-open e repeat-end ending-closed f section g refrain-start L a refrain-end
> one two three four five six
2> ONE TWO THREE`

describe("a ballade", () => {
  test("once through: open, closed, then what follows", () => {
    expect(sung(scoreOf(BALLADE))).toBe("c(one) d(two) e(three) c(ONE) d(TWO) f(four) g(five) a(six)")
  })
  test("as signs it stands once; its parts are told", () => {
    const { form, voices } = scoreOf(BALLADE, "signs")
    expect(voices[0]!.events).toHaveLength(6)
    expect(form!.parts.map(({ name, from, to, refrain }) => [name, toText(from), toText(to), refrain])).toEqual([
      ["A", "0", "16", false],
      ["B", "16", "20", false],
      ["C", "20", "28", true],
    ])
  })
  test("ids are the page's the first time, and their own when it is sung again; times have no gap", () => {
    const { voices, duration } = scoreOf(BALLADE)
    const { events } = voices[0]!
    expect(events.map(({ id }) => id)).toEqual(["1.3", "1.4", "1.6", "1.3.again2", "1.4.again2", "1.9", "1.11", "1.13"])
    expect(events.map(({ sign }) => sign).slice(2, 5)).toEqual(["1.6", "1.3", "1.4"])
    let end = "0"
    for (const { onset, duration } of events) {
      expect(toText(onset)).toBe(end)
      end = toText({ num: onset.num + duration.num, den: 1 })
    }
    expect(end).toBe(toText(duration))
  })
  test("stanza after stanza", () => {
    const text = `${HEAD}repeat-start B c4 repeat-end section d refrain-start L a refrain-end
> a1 b1 R
2> a2 b2
3> a3
4> a4`
    expect(sung(scoreOf(text, "stanzas"))).toBe("c(a1) c(a2) d(b1) a(R) c(a3) c(a4) d(b2) a(R)")
    expect(sung(scoreOf(text, "written"))).toBe("c(a1/a3) c(a2/a4) d(b1/b2) a(R)")
  })
})

describe("a refrain that opens the song", () => {
  const VIRELAI = `${HEAD}refrain-start B c4 d refrain-end repeat-start B e ending-open f repeat-end ending-closed L g
> R R b1 b1 b2
2> t t b2`
  test("comes back at the end, after its music with the strophe's own words", () => {
    expect(sung(scoreOf(VIRELAI))).toBe("c(R) d(R) e(b1) f(b1) e(b2) g(b2) c(t) d(t) c(R) d(R)")
  })
  test("comes back where the page calls for it, and there only", () => {
    expect(sung(scoreOf(`${HEAD}refrain-start B c4 refrain-end B d refrain-start refrain-end B e L f`))).toBe(
      "c d c e f",
    )
  })
})

describe("other ways", () => {
  test("an order that an editor states", () => {
    const rondeau = `${HEAD}B c4 section L d\n> A B\n2> a b\n3> x\ndecision on=1.2 form=(A B A2 A A3 B2 A B)`
    expect(sung(scoreOf(rondeau))).toBe("c(A) d(B) c(a) c(A) c(x) d(b) c(A) d(B)")
  })
  test("a part that the page does not have", () => {
    const { problems } = scoreOf(`${HEAD}B c4 section L d\ndecision on=1.2 form=(A Z)`)
    expect(problems.map(({ code }) => code)).toEqual(["no-such-part"])
  })
  test("from the beginning, up to the end that is marked", () => {
    expect(sung(scoreOf(`${HEAD}B c4 section d section text:"fine" L e text:"Da capo"`))).toBe("c d e c d")
  })
  test("as often as the sign says", () => {
    expect(sung(scoreOf(`${HEAD}repeat-start B c4 repeat-end:"3" L d`))).toBe("c c c d")
  })
  test("stanzas without a repeat", () => {
    const hymn = `${HEAD}B c4 L d\n> a b\n2> A B`
    expect(sung(scoreOf(hymn))).toBe("c(a/A) d(b/B)")
    expect(sung(scoreOf(hymn, "stanzas"))).toBe("c(a) d(b) c(A) d(B)")
  })
})

describe("all voices together", () => {
  test("a voice without marks is repeated with the others; a note over the line goes on where it can", () => {
    const score = scoreOf(`${HEAD}repeat-start B c4 d repeat-end B e L f${TENOR}B f3 L g a`)
    expect(sung(score)).toBe("c d c d e f")
    expect(sung(score, 1)).toBe("f g f g a")
    expect(score.voices[1]!.events.map(({ onset, duration }) => `${toText(onset)}+${toText(duration)}`)).toEqual([
      "0+4",
      "4+4",
      "8+4",
      "12+8",
      "20+8",
    ])
    expect(score.problems.map(({ code }) => code)).toEqual(["repeat-cuts-note"])
  })
  test("brackets, marks and signs come again with what they belong to", () => {
    const { voices } = scoreOf(`${HEAD}repeat-start [B c4 d] signum O B e repeat-end C L f`)
    const [voice] = voices
    expect(voice!.brackets.map(({ from, to }) => [from, to])).toEqual([
      ["1.4", "1.5"],
      ["1.4.again2", "1.5.again2"],
    ])
    expect(voice!.marks.map(({ id, onset }) => [id, toText(onset)])).toEqual([
      ["1.6", "8"],
      ["1.6.again2", "22"],
    ])
    expect(voice!.mensurations.map(({ onset, periods }) => `${toText(onset)}:${toText(periods[0]!)}`)).toEqual([
      "0:4",
      "8:6",
      "14:4",
      "22:6",
      "28:4",
    ])
  })
})
