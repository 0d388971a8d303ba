import { describe, expect, test } from "vitest"
import { USUAL_CONVENTIONS } from "../edition/index.js"
import { NO_HEAD, type MeiHead } from "../formats/mei/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { alignVoices } from "../score/index.js"
import { readTogether } from "../together/index.js"
import { bookOf, type BookInput } from "./book.js"

function book(text: string, more: Partial<BookInput> = {}) {
  const page = parseShorthand(text, "test")
  if (!page.ok) throw new Error(page.problems[0]!.what)
  const { readings } = readTogether(page.value)
  const score = alignVoices(page.value, readings)
  return bookOf({ page: page.value, readings, score, conventions: USUAL_CONVENTIONS, ...more })
}
const preface = (text: string, more?: Partial<BookInput>) =>
  new Map(book(text, more).preface.map(({ heading, paragraphs }) => [heading, paragraphs.join("\n")]))
const READ = "How the notation was read"

const TWO = "voice cantus practice=ars-nova\nC B c4 d e O B f g\nvoice tenor practice=ars-nova\nC B c3 d e O B f g\n"

describe("the preface", () => {
  test("says by which practice each voice is read, and who says so", () => {
    expect(preface(TWO).get(READ)).toMatch(/^Both voices are read by the practice “Ars nova[^”]*”, as the file says\./)
    const mixed =
      "voice triplum practice=ars-antiqua(pairOrder=equal)\nL c4 B d\nvoice cantus practice=ars-nova\nC B c4 d\n"
    expect(preface(mixed).get(READ)).toMatch(
      /The triplum is read .*Ars antiqua.*The option pairOrder \(order of two semibreves on a breve\) is “equal”, after Ars cantus mensurabilis/,
    )
    expect(preface("voice cantus\nB c4 S d M e\n").get(READ)).toMatch(
      /^The voice is read .* as was inferred from the signs/,
    )
  })
  test("says how it is tuned, how fast it goes and what is kept at a change of sign, all of it an editor's default", () => {
    const sounds = preface(TWO).get("How it sounds")
    expect(sounds).toMatch(/Sounded in Pythagorean tuning.*: an editor’s default for this notation/)
    expect(sounds).toMatch(/minims in a minute, an editor’s estimate and no fact about the piece\./)
    expect(sounds).toMatch(/where all voices change their sign, the minim keeps its length/)
    const white = preface("voice cantus practice=white\nC B c4 d e\n").get("How it sounds")
    expect(white).toMatch(/quarter-comma meantone.*as for all music from about 1480 on\./)
  })
  test("says which mensurations there are, from which bar on, signed or found", () => {
    expect(preface(TWO).get("Mensuration")).toBe(
      "Both voices: imperfect modus minor, imperfect tempus, prolatio minor; from bar 4 imperfect modus minor, perfect tempus, prolatio minor.",
    )
    expect(preface("voice cantus practice=ars-nova\nB c4 S d d d B e\n").get("Mensuration")).toMatch(
      /\(found\).*\n?.*inferred from the notes/s,
    )
  })
  test("says how it is written, and how sure the reading is, in whole sentences", () => {
    const all = [...preface(TWO).values()].join("\n")
    expect(all).toContain("Note values are shortened to 1:4")
    expect(all).toContain("Of all ten notes and rests the doubt is under 0.05.")
    expect(all).toContain("The voices meet at the end.")
    for (const line of all.split("\n")) expect(line).toMatch(/^[A-Z].*[.!?]$/)
  })
  test("names sources, or says that none is named", () => {
    expect(preface(TWO).get("The source")).toContain("names no source")
    const head: MeiHead = { ...NO_HEAD, sources: ["A great book, f. 1"], rights: "For all" }
    expect(preface(TWO, { head }).get("The source")).toBe("Source: A great book, f. 1.\nFor all.")
  })
})

describe("the title page", () => {
  test("has what the page and the head of its file say, and the editor who is named", () => {
    const head: MeiHead = {
      ...NO_HEAD,
      title: "Other",
      date: "c. 1400",
      editors: ["A"],
      composers: ["X"],
      sources: ["S"],
    }
    const { titlePage } = book(`title: A song\n${TWO}`, { head, editor: "B" })
    expect(titlePage).toMatchObject({ title: "A song", by: ["X"] })
    expect(titlePage.voices).toEqual([
      { name: "cantus", range: "c4–g4" },
      { name: "tenor", range: "c3–g3" },
    ])
    expect(titlePage.facts.map(one => `${one.name}: ${one.value}`)).toEqual([
      expect.stringMatching(/^Practice: Ars nova/),
      "Date: c. 1400",
      "Source: S",
      "Editor: B",
    ])
  })
  test.each([
    ["c. 1400", "c. 1400"],
    ["", "1395–1405"],
  ])("dates a piece by the words of its file's head, %j, or else by its years: %s", (date, told) => {
    const { titlePage } = book(`years made=1395-1405\n${TWO}`, { head: { ...NO_HEAD, date } })
    expect(titlePage.facts).toContainEqual({ name: "Date", value: told })
  })
  test("of a piece without title, voices' names or anything else", () => {
    const { titlePage, preface: sections } = book("B c4 d\n")
    expect(titlePage.title).toBe("A piece without a title")
    expect(sections.every(({ paragraphs }) => paragraphs.every(text => text.trim() !== ""))).toBe(true)
  })
})

test("each voice has a part of its own", () => {
  expect(book(TWO).parts.map(part => part.voices.map(one => one.label))).toEqual([["cantus"], ["tenor"]])
})
