/** Formulas as they are commonly met; see inscription-words.ts for what a treatise names. */
import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { canonWords } from "../page/index.js"
import { inscriptionOf } from "./inscription.js"

const IMPERFECT = { modusMaior: 2, modusMinor: 2, tempus: 2, prolatio: 2 } as const
const said = (text: string, signa = 0) => {
  const { canon, entryMissing } = inscriptionOf(text, IMPERFECT, signa)
  return (canon ? canonWords(canon) : "as written") + (entryMissing ? " (when?)" : "")
}

describe("voices that follow", () => {
  test.each([
    // inscription                                            signa
    ["Fuga duorum temporum", 0, "2 voices: as written; 2 breves later"],
    ["Fuga trium temporum in dyapenthe", 0, "2 voices: as written; 3 breves later, a fifth above"],
    ["Fuga trium temporum in hypodiapente", 0, "2 voices: as written; 3 breves later, a fifth below"],
    ["Canon in subdiapason post unum tempus", 0, "2 voices: as written; 1 breve later, an octave below"],
    ["Canon. Post tria tempora in epidyatessaron", 0, "2 voices: as written; 3 breves later, a fourth above"],
    ["post duas semibreves ad quintam inferiorem", 0, "2 voices: as written; 2 semibreves later, a fifth below"],
    ["Fuga in unisono post II pausas longas", 0, "2 voices: as written; 2 longs later"],
    ["Duo in unum. Post tempus sequitur in diapason", 0, "2 voices: as written; 1 breve later, an octave above"],
    ["Fuga", 1, "2 voices: as written; from the signum on"],
    ["", 1, "2 voices: as written; from the signum on"],
    ["Fuga in epidiapente", 2, "2 voices: as written; from the signum on, a fifth above, up to signum 2"],
    ["Fuga in epidiapente", 0, "2 voices: as written; a fifth above (when?)"],
    ["Tres in unum post duo tempora", 0, "3 voices: as written; 2 breves later; 4 breves later"],
    [
      "Fuga trium vocum, in epidiapente post unum tempus, in epidiapason post duo tempora",
      0,
      "3 voices: as written; 1 breve later, a fifth above; 2 breves later, an octave above",
    ],
    ["Trinitas in unitate", 2, "3 voices: as written; from the signum on; from signum 2 on"],
    ["Fuga duorum temporum per contrarium", 0, "2 voices: as written; 2 breves later, inverted"],
    [
      "Fuga in diapason post tempus, crescit in duplo",
      0,
      "2 voices: as written; 1 breve later, an octave above, in values twice as long",
    ],
  ] as const)("%s (signa: %i): %s", (text, signa, expected) => {
    expect(said(text, signa)).toBe(expected)
  })
  test("what is supposed is said", () => {
    expect(inscriptionOf("Fuga duorum temporum in diapente", IMPERFECT).supposed).toEqual(["the fifth above"])
    expect(inscriptionOf("Fuga duorum temporum in subdiapente", IMPERFECT).supposed).toEqual([])
  })
})

describe("one voice, otherwise than as written or several times", () => {
  test.each([
    ["Cancrizat", "backwards"],
    ["Vade retro", "backwards"],
    ["Canit more Hebræorum", "backwards"],
    ["Cancer eat plenis sed redeat medius", "backwards, then in values of half the length"],
    ["Qui se exaltat humiliabitur", "inverted"],
    ["Clama ne cesses", "without rests"],
    ["Tenor dicitur bis", "as written, then as written"],
    ["Tenor dicitur ter, tertio per semi", "as written, then as written, then in values of half the length"],
    [
      "Tenor ter dicitur: primo ut iacet, secundo per semi, tertio per tertium",
      "as written, then in values of half the length, then in values of a third the length",
    ],
    ["Iste tenor dicitur bis, secundo per medium", "as written, then in values of half the length"],
    [
      "Dicitur ter, primo de integris, secundo et tertio per diminutionem",
      "as written, then in values of half the length, then in values of half the length",
    ],
    ["Primo recte, secundo retrograde", "as written, then backwards"],
    [
      "Tenor bis canitur, secunda vice cancrizando per semi",
      "as written, then in values of half the length, backwards",
    ],
    [
      "Canitur quater, ultimo per quartam partem",
      "as written, then as written, then as written, then in values of a quarter the length",
    ],
  ])("%s: %s", (text, expected) => {
    expect(said(text)).toBe(expected)
  })
})

describe("the whole part in other values", () => {
  test.each([
    ["Crescit in duplo", "1/2"],
    ["maxima sit longa", "2"],
    ["per augmentationem", "1/2"],
    ["in subtriplo", "3"],
  ])("%s: divided by %s", (text, by) => {
    const { canon, ratio, riddle } = inscriptionOf(text, IMPERFECT)
    expect(canon).toBeUndefined()
    expect(toText(ratio!)).toBe(by)
    expect(riddle).toBe(false)
  })
})

describe("riddles are left alone", () => {
  test.each(["", "Canon", "Otia dant vitia", "Sol et luna", "Tenor de beata virgine", "Sit trium series una"])(
    "%s",
    text => {
      const { canon, ratio, riddle } = inscriptionOf(text, IMPERFECT)
      expect(canon).toBeUndefined()
      expect(ratio).toBeUndefined()
      expect(riddle).toBe(true)
    },
  )
})
