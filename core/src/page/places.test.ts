import { describe, expect, it } from "vitest"
import { signId } from "../base/index.js"
import { findSign, locate, locateAll, shortPlace, showPlace } from "./places.js"
import type { Sign } from "./signs.js"
import { plainNote as note, plainPage, plainVoice as voice } from "./testing/plain-page.js"

let count = 0
const of = (kind: "folio" | "column" | "line", n?: string): Sign => ({
  kind: "break",
  id: signId(`${kind}${count++}`),
  of: kind,
  n,
})
const page = plainPage([
  voice(
    "1",
    [
      of("folio", "3v"),
      of("line"),
      note("a"),
      note("b"),
      of("line"),
      note("c"),
      { kind: "ligature", id: signId("lig"), members: [note("d"), note("e")] },
      { kind: "rest", id: signId("f"), level: "brevis", coloration: "none" },
      of("folio", "4r"),
      note("g"),
      of("line", "7"),
      note("h"),
    ],
    "Triplum",
  ),
  voice("2", [note("x"), of("column", "2"), note("y")], "Tenor primus"),
])

describe("places", () => {
  it.each([
    ["a", "f. 3v, Triplum, staff 1, sign 1"],
    ["c", "f. 3v, Triplum, staff 2, sign 1"],
    ["e", "f. 3v, Triplum, staff 2, sign 3"],
    ["lig", "f. 3v, Triplum, staff 2, sign 2"],
    ["g", "f. 4r, Triplum, staff 1, sign 1"],
    ["h", "f. 4r, Triplum, staff 7, sign 1"],
    ["y", "column 2, Tenor primus, staff 1, sign 1"],
  ])("%s stands at %s", (id, place) => {
    expect(showPlace(locate(page, id)!)).toBe(place)
  })
  it("tells all places at once", () => {
    const all = locateAll(page)
    expect(all.size).toBe(17)
    for (const [id, place] of all) expect(place).toEqual(locate(page, id))
  })
  it("knows no place for an unknown id", () => {
    expect(locate(page, "nobody")).toBeUndefined()
    expect(findSign(page, "nobody")).toBeUndefined()
    expect(findSign(page, "triplum 99")).toBeUndefined()
    expect(findSign(page, "quintus 1")).toBeUndefined()
  })
  it.each([
    ["triplum 4", "d"],
    ["TRIPLUM 6", "f"],
    ["1 3", "c"],
    ["tenor primus 2", "y"],
    ["2 1", "x"],
    ["lig", "lig"],
  ])("%s means %s", (query, id) => {
    expect(findSign(page, query)?.id).toBe(id)
  })
  it("gives the place that can be typed", () => {
    expect(shortPlace(page, "f")).toBe("Triplum 6")
    expect(shortPlace(page, "lig")).toBeUndefined()
  })
})
