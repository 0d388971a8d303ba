/** For tests: an invented score with everything that files for others have to carry or to leave. */
import { ratio, signId } from "../../base/index.js"
import type { Mark, Note, Page, Sign, Syllable } from "../../page/index.js"
import { alignVoices, type Score } from "../index.js"
import { signsFrom, testPiece, type TestSign } from "./readings.js"

const syllable = (text: string, join: Syllable["join"], stanza = 1, italic = false): Syllable => ({
  stanza,
  text,
  join,
  ...(italic ? { italic } : {}),
})

/** Changes of single signs, by their number from 1. */
const CANTUS: Readonly<Record<number, Partial<TestSign> & { readonly on?: Partial<Note> }>> = {
  1: { on: { syllables: [syllable("O", " "), syllable("Lux", " ", 2)] } },
  2: { on: { syllables: [syllable("flo", "-"), syllable("no", "-", 2, true)] } },
  3: { on: { accidental: "s", syllables: [syllable("re", "~"), syllable("a", "-"), syllable("va", " ", 2, true)] } },
  5: { on: { accidental: "s", accidentalByEditor: true, syllables: [syllable("va", "_")] } },
  8: { plica: { duration: ratio(1, 2), pitch: "g4", certain: true }, on: { plica: { direction: "down" } } },
  9: { plica: { duration: null, pitch: null, certain: false }, on: { plica: {} } },
  10: { on: { fermata: true } },
}

/** Each before the note of this number in the cantus; the last two stand within a bar. */
const MARKS: readonly (readonly [number, Mark["of"], string?])[] = [
  [1, "repeat-start"],
  [1, "text", "Here <begins> & goes on"],
  [4, "signum-congruentiae"],
  [7, "ending-open"],
  [11, "repeat-end"],
  [11, "ending-closed"],
  [12, "refrain-start"],
  [14, "canon", "Otia dant vitia"],
  [14, "refrain-end"],
  [15, "repeat-start"],
  [16, "ending-open"],
]

export function everything(): Score {
  const cantus = signsFrom(
    "d4:2 e4:2 fs4:2 f4:2 cs4:3 d4:1 e4:2/3* f4:2/3* g4:2/3* a4:2 d4:4 e4:2~ g4:2 f4:1 e4:1 d4:2",
  ).map((sign, i): TestSign => {
    const { on, ...more } = CANTUS[i + 1] ?? {}
    return { ...sign, ...more, note: { ...sign.note, ...on } }
  })
  const tenor = signsFrom("d3:4 r:4 f3:4 e3:2 d3:6 c3:4 d3:4")
  const { page, readings } = testPiece(
    [
      { label: "Cantus & more", signs: cantus },
      { label: "Tenor", signs: tenor, flats: true },
    ],
    "Everything (invented)",
  )
  return alignVoices(withMarks(page), readings)
}

function withMarks(page: Page): Page {
  const [cantus, ...others] = page.voices
  const signs = cantus!.signs.flatMap((sign): Sign[] => {
    const first = sign.kind === "ligature" ? sign.members[0]! : sign
    const marks = MARKS.flatMap(([before, of, text], n): Mark[] =>
      first.id === `1.${before}`
        ? [{ kind: "mark", id: signId(`mark.${n + 1}`), of, ...(text === undefined ? {} : { text }) }]
        : [],
    )
    return [...marks, sign]
  })
  return { ...page, voices: [{ ...cantus!, signs }, ...others] }
}
