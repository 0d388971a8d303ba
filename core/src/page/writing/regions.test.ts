/** Regions of a photograph: given, followed, moved, taken away; every change leads back. */
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { signId, voiceId } from "../../base/index.js"
import { applyChange, type PageChange } from "../change.js"
import type { Page } from "../page.js"
import { parseShorthand } from "../shorthand/index.js"
import { flatSigns } from "../walk.js"
import {
  addPhotograph,
  beginningOf,
  giveRegion,
  moveRegion,
  regionOf,
  regionsAlong,
  setPhotograph,
  takePhotograph,
  takeRegions,
  writeNote,
} from "./index.js"

const bare = mustWork(parseShorthand("voice 1 black\nclef:C3 O B c4 d line e [f g] line a\nvoice 2 black\nclef:C4"))
const photographed: Page = made(
  bare,
  addPhotograph(bare, { image: "a.jpg", label: "f. 1", width: 900, height: 600 }).change,
)
const [first] = photographed.voices

function made(page: Page, change: PageChange): Page {
  const changed = mustWork(applyChange(page, change))
  expect(mustWork(applyChange(changed.page, changed.undo)).page).toEqual(page)
  return changed.page
}
const signAt = (page: Page, at: number, voice = 0) => flatSigns(page.voices[voice]!)[at]!.sign.id
function given(page: Page, start: "voice" | "line" | "sign" | "new-line", at?: number, voice = 0): Page {
  const wanted = { surface: "folio-1", box: [9, 8, 100, 50] as const, start, voice: page.voices[voice]!.id }
  const gesture = giveRegion(page, at === undefined ? wanted : { ...wanted, sign: signAt(page, at, voice) })
  return made(page, gesture!.change)
}
const along = (page: Page, voice = 0) =>
  regionsAlong(page.voices[voice]!).map(one => one?.replace("region-", "") ?? "-")

describe("regions of a photograph", () => {
  it("hold from where they begin to where the next begins", () => {
    expect(
      flatSigns(first!)
        .map(({ sign }) => sign.kind)
        .join(" "),
    ).toBe("clef mensuration note note break note note note break note")
    const voice = given(photographed, "voice")
    expect(along(voice).join("")).toBe("1111111111")
    const line = given(voice, "line", 6)
    expect(along(line).join("")).toBe("1111222222")
    const sign = given(line, "sign", 3)
    expect(along(sign).join("")).toBe("1113222222")
    expect(regionOf(sign, signAt(sign, 3))?.id).toBe("region-3")
    expect(beginningOf(sign, "region-2")?.sign).toBe(signAt(sign, 5))
  })
  it("are found for a clef that stands before the first of them, and for no note that does", () => {
    const late = given(photographed, "sign", 2)
    expect(along(late).slice(0, 3)).toEqual(["1", "1", "1"])
    expect(along(given(photographed, "sign", 3)).join("")).toBe("---1111111")
  })
  it("hold what is written into them later", () => {
    const page = given(given(photographed, "line", 2), "line", 6)
    const written = made(page, writeNote(page, { voice: first!.id, after: signAt(page, 3) }, "a", "brevis")!.change)
    expect(along(written).join("")).toBe("11111222222")
  })
  it("can be made with the line that begins in them, in a voice that has only its clef too", () => {
    const page = given(photographed, "new-line", undefined, 1)
    expect(page.voices[1]!.signs.map(({ kind, zone }) => `${kind} ${zone}`)).toEqual([
      "clef undefined",
      "break region-1",
    ])
    expect(along(given(photographed, "voice", undefined, 1), 1)).toEqual(["1"])
  })
  it("give way to another that begins at the same sign", () => {
    const twice = given(given(photographed, "voice"), "voice")
    expect(twice.zones.map(({ id }) => id)).toEqual(["region-2"])
  })
  it("are moved, with their corners in order and whole", () => {
    const page = given(photographed, "voice")
    expect(made(page, moveRegion(page, "region-1", [50.4, 70, 20, 70])).zones[0]!.box).toEqual([20, 70, 50, 71])
  })
  it("are taken away from their signs, and with their photograph", () => {
    const page = given(given(photographed, "voice"), "line", 6)
    const fewer = made(page, takeRegions(page, new Set(["region-2"])))
    expect(along(fewer).join("")).toBe("1111111111")
    const none = made(page, takePhotograph(page, "folio-1"))
    expect([none.surfaces, none.zones]).toEqual([[], []])
    expect(none.voices).toEqual(bare.voices)
  })
  it("are given to nothing that is not there", () => {
    const box = [0, 0, 1, 1] as const
    expect(giveRegion(photographed, { surface: "no", box, start: "voice", voice: first!.id })).toBeUndefined()
    expect(giveRegion(photographed, { surface: "folio-1", box, start: "voice", voice: voiceId("no") })).toBeUndefined()
    const sign = signId("no")
    for (const start of ["line", "sign", "new-line"] as const)
      expect(giveRegion(photographed, { surface: "folio-1", box, start, voice: first!.id, sign })).toBeUndefined()
  })
  it("leave what is told of the photograph to be changed by itself", () => {
    const page = made(photographed, setPhotograph(photographed, "folio-1", { label: "f. 2v" }))
    expect(page.surfaces[0]).toEqual({ id: "folio-1", label: "f. 2v", image: "a.jpg", box: [0, 0, 900, 600] })
  })
})
