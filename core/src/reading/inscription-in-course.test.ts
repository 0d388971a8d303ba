/** Words in the course of a voice that say in what values it goes on. */
import { expect, test } from "vitest"
import { toText } from "../base/index.js"
import { readMei } from "../formats/mei/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readVoice } from "./index.js"

function durations(text: string): string {
  const parsed = parseShorthand(`voice tenor black practice=ars-nova\nC:modus=2 ${text}`)
  if (!parsed.ok) throw new Error("the shorthand of this test is wrong")
  return readVoice(parsed.value.voices[0]!)
    .signs.filter(one => one.number > 0)
    .map(one => toText(one.duration))
    .join(" ")
}

test("what stands in the course of a voice holds from there on; at its head or end, for all of it", () => {
  expect(durations(`L c d canon:"per semi" L c d e`)).toBe("8 8 4 4 4")
  expect(durations(`canon:"per semi" L c d c d e`)).toBe("4 4 4 4 4")
  expect(durations(`L c d c d e canon:"per semi"`)).toBe("4 4 4 4 4")
})

test("each is taken of the values that are written, not of those sung before it", () => {
  expect(durations(`L c canon:"per semi" c canon:"per quartum" c d`)).toBe("8 4 2 2")
})

test("a direction in a layer that points to no sign stands where it stands", () => {
  const note = (id: string): string => `<note xml:id="${id}" dur="longa" pname="c" oct="4"/>`
  const mei = `<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead><fileDesc><titleStmt><title/></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv><score><scoreDef><staffGrp><staffDef n="1" lines="5" notationtype="mensural.black" notationsubtype="ars.nova" mensur.sign="C"/></staffGrp></scoreDef>
<section><staff n="1"><layer>${note("a")}<dir type="canon">per semi</dir>${note("b")}${note("c")}</layer></staff></section></score></mdiv></body></music></mei>`
  const read = readMei(mei)
  if (!read.ok) throw new Error("the file of this test is wrong")
  const signs = readVoice(read.value.page.voices[0]!).signs.filter(one => one.number > 0)
  expect(signs.map(one => toText(one.duration))).toEqual(["8", "4", "4"])
})
