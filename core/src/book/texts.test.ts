import { expect, test } from "vitest"
import { parseShorthand } from "../page/shorthand/index.js"
import { stanzaText, textsOf } from "./texts.js"

function texts(text: string) {
  const page = parseShorthand(text, "test")
  if (!page.ok) throw new Error(page.problems[0]!.what)
  return textsOf(page.value)
}
const plain = (text: string) =>
  texts(text).map(({ voices, sections }) => [
    voices.join("+"),
    sections.map(({ name, stanzas }) => [name, stanzas.map(one => `${one.number}: ${stanzaText(one)}`)]),
  ])

test("syllables become words again, stanza by stanza", () => {
  const words = "> A- ve_ ma- ris * stel- la\n2> Su- mens il- lud a- ve\n"
  expect(plain(`voice cantus\nB c4 d e f g a b\n${words}`)).toEqual([
    ["cantus", [[undefined, ["1: Ave maris stella", "2: Sumens illud ave"]]]],
  ])
})

test("voices with the same words stand together, those without at the end; one without a name goes by its number", () => {
  const told = texts("voice a\nB c4 d\n> Sanc- tus\nvoice b\nB c4 d\nvoice c\nB c4 d\n> Sanc- tus\n")
  expect(told.map(one => [one.voices, one.sections.length])).toEqual([
    [["a", "c"], 1],
    [["b"], 0],
  ])
})

test("sections: at a stroke through the staff, at a refrain with its name", () => {
  const told = plain(
    'voice a\nB c4 d finis B e f refrain-start:"Tornada" B e f refrain-end B g\n> A- ve ma- ris stel- la so- lis\n',
  )
  expect(told[0]![1]).toHaveLength(4)
  expect(JSON.stringify(told)).toContain("Tornada")
})

test("italics stay with their words, and an elision ties two", () => {
  const [voice] = texts("voice a\nB c4 d e f\n> a~e-  ter /a- /men\n")
  expect(voice!.sections[0]!.stanzas[0]!.runs).toEqual([
    { text: "a\u203Feter ", italic: false },
    { text: "amen", italic: true },
  ])
})
