import { describe, expect, test } from "vitest"
import { fromText, toNumber } from "../../base/index.js"
import { everySign, findSign, parseShorthand, type Page } from "../../page/index.js"
import { layPage } from "../page/index.js"
import type { Box } from "../scene/scene.js"
import { askedOver, layTime, momentAt, soundingOver, xOfMoment } from "../time/index.js"
import { bands, inputOf } from "../time/testing/drawn.js"
import { cartouchesOver, placesIn, signAt, signBoxes, staffPointAt, wedgesOver } from "./index.js"

function pageOf(text: string): Page {
  const read = parseShorthand(text, "test.figurae")
  if (!read.ok) throw new Error(read.problems.map(one => one.what).join(" "))
  return read.value
}
const TEXT = `title: Duo
voice cantus black practice=ars-nova
clef:C1 O
B c5 S d B e S c d e [c5 d b4] S c5 d e f e d c B c S d B e S c d e B c L c
> lu- * ce * * * va
voice tenor black practice=ars-nova
clef:C4 O
B c4 c c c c c c c c L c
`
const page = pageOf(TEXT)
const id = (place: string) => findSign(page, place)!.id
const middle = ({ left, right, top, bottom }: Box) => [(left + right) / 2, (top + bottom) / 2] as const

describe("places on a page", () => {
  const { scene } = layPage(page, { width: 500 })
  const places = placesIn(scene)
  test("every sign has a place within the drawing, a clef one at the head of each line", () => {
    const kinds = page.voices.flatMap(voice => [...everySign(voice.signs)])
    for (const { id: sign } of kinds) {
      const own = places.signs.get(sign)
      expect(own?.boxes.length, sign).toBeGreaterThan(0)
      for (const box of own!.boxes)
        expect(box.left >= 0 && box.right <= scene.width && box.top >= 0 && box.bottom <= scene.height).toBe(true)
    }
    const lines = places.lines.filter(line => line.voice === page.voices[0]!.id)
    expect(lines.length).toBeGreaterThan(1)
    expect(places.signs.get(page.voices[0]!.signs[0]!.id)!.boxes).toHaveLength(lines.length)
  })
  test("the middle of a sign is its own, a ligature's notes before the ligature, a syllable its note's", () => {
    for (const place of ["cantus 1", "cantus 7", "cantus 8", "tenor 3"]) {
      const own = places.signs.get(id(place))!
      expect(signAt(places, ...middle(own.boxes[0]!))).toBe(id(place))
    }
    const [word] = places.signs.get(id("cantus 1"))!.words
    expect(signAt(places, ...middle(word!))).toBe(id("cantus 1"))
  })
  test("measured for one sign alone, its place is the same", () => {
    const { content } = scene
    const sides = (boxes: readonly Box[]) =>
      boxes.flatMap(({ left, right, top, bottom }) => [left, right, top, bottom].map(side => side.toFixed(6)))
    for (const [sign, { boxes }] of placesIn(scene).signs)
      expect(sides(signBoxes(content, new Set([sign])).get(sign) ?? [])).toEqual(sides(boxes))
  })
  test("beside all signs there is none, but within reach the nearest", () => {
    const box = places.signs.get(id("cantus 2"))!.boxes[0]!
    expect(signAt(places, scene.width - 1, 1)).toBeUndefined()
    expect(signAt(places, (box.left + box.right) / 2, box.top - 2, 4)).toBe(id("cantus 2"))
  })
  test("a point on a staff lies between two signs and at a height", () => {
    const [one, two] = [id("cantus 1"), id("cantus 2")].map(sign => places.signs.get(sign)!.boxes[0]!)
    const line = places.lines[0]!
    const point = staffPointAt(places, (one!.right + two!.left) / 2, line.bottom - 1.5 * line.space)!
    expect([point.voice, point.before, point.after, point.position]).toEqual([
      page.voices[0]!.id,
      id("cantus 1"),
      id("cantus 2"),
      3,
    ])
    expect(staffPointAt(placesIn({ content: [] }), 0, 0)).toBeUndefined()
  })
  test("a cartouche goes round the sign, a wedge stands over its staff", () => {
    const box = places.signs.get(id("cantus 3"))!.boxes[0]!
    const [cartouche] = cartouchesOver(places, id("cantus 3"), scene.unit)
    if (cartouche?.shape !== "rect") throw new Error("no cartouche")
    expect([cartouche.x < box.left, cartouche.x + cartouche.width > box.right]).toEqual([true, true])
    const [wedge] = wedgesOver(places, [id("cantus 3")], scene.unit)
    if (wedge?.shape !== "polygon") throw new Error("no wedge")
    expect(wedge.points[0]![1]).toBeLessThan(places.lines[0]!.bottom - 4 * places.lines[0]!.space + 0.1)
  })
})

describe("moments in the time view", () => {
  const laid = layTime(inputOf(page), { width: 900 })
  const places = placesIn(laid.scene)
  test("a moment's place is where the bands of that moment begin, and the way back gives it again", () => {
    expect(laid.systems.length).toBeGreaterThan(1)
    for (const { id: sign, onset } of bands(laid.scene)) {
      const moment = toNumber(fromText(onset)!)
      const at = xOfMoment(laid, moment)!
      const band = places.signs.get(sign as never)!.bands[0]!
      expect(band.left).toBeCloseTo(at.x, 6)
      expect(band.top).toBeGreaterThan(at.top)
      expect(band.bottom).toBeLessThan(at.bottom)
      const back = momentAt(laid, at.x, (band.top + band.bottom) / 2)!
      expect(back.moment).toBeCloseTo(moment, 6)
      expect(back.system).toBe(at.system)
      expect(page.voices.map(voice => voice.id)).toContain(back.voice)
    }
    expect(xOfMoment(laid, 1e6)).toBeUndefined()
    expect(xOfMoment(laid, -1)).toBeUndefined()
  })
  test("all signs that sound are found at their bands", () => {
    for (const { id: sign } of bands(laid.scene)) {
      const band = places.signs.get(sign as never)!.bands[0]!
      expect(signAt(places, band.right - 2, band.bottom - 2)).toBe(sign)
    }
  })
  test("what sounds is turned over, one band in each voice; what is asked about is marked and nothing moves", () => {
    const over = soundingOver(laid, 1)
    const turned = over.flatMap(group => group.content).filter(item => item.part === "sounding-note")
    expect(turned).toHaveLength(2)
    expect(soundingOver(laid, -5)).toEqual([])
    const asked = askedOver(laid, id("cantus 1"))
    expect(asked).toHaveLength(1)
    expect(askedOver(laid, "nowhere" as never)).toEqual([])
  })
})
