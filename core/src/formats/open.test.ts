import { describe, expect, test } from "vitest"
import { newMei } from "./mei/index.js"
import { openText } from "./open.js"

const SHORTHAND = "title: One\n\nvoice tenor black\nclef:C4\nB c3 d\n"

describe("a text is opened as what it is", () => {
  test("whatever its name says", () => {
    const opened = openText("one.txt", SHORTHAND)
    if (!opened.ok) throw new Error("not read")
    expect(opened.value.page.title).toBe("One")
    expect(opened.value.document).toBeUndefined()
    const mei = openText("one.txt", newMei(opened.value.page))
    expect(mei.ok && mei.value.document?.version).toBe("5.1")
    expect(mei.ok && mei.value.page.voices[0]!.signs.length).toBe(opened.value.page.voices[0]!.signs.length)
  })
  test("a name says which message fits, where nothing else does", () => {
    expect(openText("one.mei", "hello").problems[0]?.code).not.toBe(openText("one.figurae", "hello").problems[0]?.code)
  })
  test.each(["", "\u0000", "<", "<mei/>", "<!DOCTYPE a [<!ENTITY b 'c'>]><mei>&b;</mei>", "voice [", "]".repeat(1000)])(
    "%j never throws, and its problems name the file",
    text => {
      for (const problem of openText("a.b", text).problems) expect(problem.where?.file).toBe("a.b")
    },
  )
})
