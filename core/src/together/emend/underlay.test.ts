/** Words beside notes that are written twice or left out. */
import { expect, test } from "vitest"
import { parseShorthand, type Voice } from "../../page/index.js"
import { Underlay } from "./underlay.js"
import { WORDS_LOST } from "./weights.js"

function voice(words: string): Voice {
  const read = parseShorthand(
    `voice cantus white practice=white\nclef:C1 C\nS c5 d e e d c B d c S d e d c L d\n${words}`,
  )
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value.voices[0]!
}
const said = (
  words: string,
  kind: "note-doubled" | "note-missing" | "passage-doubled" | "dot-added",
  from = 3,
  to = from,
) => new Underlay(voice(words)).change({ kind, from, to })

const ALL = "> De us in no- mi- ne tu- o sal- vum me fac nunc\n"
const BUT_FOURTH = "> De us in * no- mi- ne tu- o sal- vum me fac\n"
const TWO_ON_FOURTH = "> De us in no-+mi- ne tu- o sal- vum me fac nunc et\n"

test("a note that has a syllable is hardly a copy; one without, among many with one, is", () => {
  expect(said(ALL, "note-doubled")).toBe(WORDS_LOST)
  expect(said(BUT_FOURTH, "note-doubled")).toBeLessThan(-2)
  expect(said("", "note-doubled")).toBe(0)
})

test("where many notes have none, one without says little", () => {
  const melisma = "> De * * * us * * * in * * no-\n"
  expect(said(melisma, "note-doubled")).toBeLessThan(0)
  expect(said(melisma, "note-doubled")).toBeGreaterThan(-1)
})

test("a passage copied with its words has them twice", () => {
  const twice = "> De us in- in- no- mi- no- mi- ne tu- o sal- vum\n"
  expect(said(twice, "note-doubled")).toBeCloseTo(0)
  expect(said(twice, "passage-doubled", 6, 7)).toBeCloseTo(0)
  expect(said(twice, "passage-doubled", 8, 9)).toBe(WORDS_LOST)
})

test("a syllable too many at one note speaks for a note lost beside it, an elision does not", () => {
  expect(said(TWO_ON_FOURTH, "note-missing", 3)).toBeLessThan(-2)
  expect(said(TWO_ON_FOURTH, "note-missing", 4)).toBeLessThan(-2)
  expect(said(TWO_ON_FOURTH, "note-missing", 6)).toBe(0)
  expect(said(TWO_ON_FOURTH, "dot-added", 3)).toBe(0)
  expect(said(TWO_ON_FOURTH.replace("no-+mi-", "no~mi-"), "note-missing", 3)).toBe(0)
})

test("where every note has several, that is how the words are set", () => {
  const many = "> a+b c+d e+f g+h i+j k+l m+n o+p q+r s+t u+v w+x y+z\n"
  expect(said(many, "note-missing", 3)).toBe(0)
})
