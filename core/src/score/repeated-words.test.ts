import { describe, expect, test } from "vitest"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { alignVoices } from "./index.js"

/** Words under the notes, those in italics in strokes; "." for a note without any. */
function words(music: string, line: string): string {
  const read = parseShorthand(`voice cantus white practice=white\nC ${music}\n${line}`)
  if (!read.ok || read.problems.length > 0) throw new Error(read.problems[0]!.what)
  const [voice] = alignVoices(read.value, readPage(read.value)).voices
  return voice!.events
    .flatMap(event => {
      if (event.kind === "rest") return []
      const sung = event.syllables.map(({ text, join, italic }) => {
        const written = text + (join === "-" ? "-" : "")
        return italic ? `/${written}/` : written
      })
      return [sung.join("+") || "."]
    })
    .join(" ")
}

describe("ij", () => {
  test("stands for the words before it, one to a note, the last to the last", () => {
    expect(words("B c4 d e f g a b c5", "> Ve- ni, de- us, ij. * * *")).toBe("Ve- ni, de- us, /de-/ . . /us,/")
  })
  test("from the capital letter or the rest on", () => {
    expect(words("B c4 d e f g a b", "> ky- rie Chri- ste ij * *")).toBe("ky- rie Chri- ste /Chri-/ . /ste/")
    expect(words("B c4 d r e f g a", "> lux fons san- cta ij *")).toBe("lux fons san- cta /san-/ /cta/")
  })
  test("passes over the later notes of a ligature", () => {
    expect(words("B c4 d [e f] g", "> a- men ij *")).toBe("a- men /a-/ . /men/")
  })
  test("stays where there is no room for the words, and more words go on after it", () => {
    expect(words("B c4 d e f g", "> a- ve ma- ria ij")).toBe("a- ve ma- ria /ij/")
    expect(words("B c4 d e f g a", "> a- men ij * Lux est")).toBe("a- men /a-/ /men/ Lux est")
  })
  test("in a further stanza", () => {
    expect(words("B c4 d e f", "> lau- da ij *\n2> io iu- bi- la")).toBe("lau-+io da+iu- /lau-/+bi- /da/+la")
  })
})
