/** A few generated pages of the many that `npm run collisions` draws, and that the counter sees what it is to see. */
import { expect, test } from "vitest"
import { parseShorthand } from "../page/index.js"
import { readVoice } from "../reading/index.js"
import { alignVoices } from "../score/index.js"
import type { Item, Scene } from "./scene/scene.js"
import { collisionReport } from "./testing/collision-report.js"
import { timeBodies, timeCollisions } from "./testing/time-collisions.js"
import { drawTime } from "./time/index.js"

test("in generated pages and time views nothing stands in the way of anything, nor is cut off", () => {
  for (const { way, met, bodies } of collisionReport(6)) {
    expect([way, met]).toEqual([way, []])
    expect(bodies).toBeGreaterThan(20)
  }
})

const read = parseShorthand("voice a black practice=ars-nova\nclef:C3 O\nB c4 S d B e L c\n> La le li lu\n", "test")
if (!read.ok) throw new Error("the page of this test cannot be read")
const readings = read.value.voices.map(voice => readVoice(voice))
const scene = drawTime({ page: read.value, readings, score: alignVoices(read.value, readings) })

test("the counter sees notes, values, words and numbers of a time view", () => {
  const names = timeBodies(scene).map(body => body.name)
  expect(names).toEqual(expect.arrayContaining(["modern-value", "syllable “La”", "count “2”", "name “a”"]))
  expect(names.filter(name => name.startsWith("note "))).toHaveLength(4)
  expect(timeCollisions(scene)).toEqual([])
})
test("the counter sees two signs at one place, and one that reaches beyond the picture", () => {
  const moved = (dx: number): Scene => ({ ...scene, content: [...scene.content, ...scene.content.map(by(dx))] })
  expect(timeCollisions(moved(6)).some(one => /^note \S+ × note \S+/.test(one))).toBe(true)
  expect(timeCollisions(moved(3000)).filter(one => one.endsWith("is cut off")).length).toBeGreaterThan(3)
})
const by =
  (dx: number) =>
  (item: Item): Item =>
    item.shape === "group" ? { ...item, x: (item.x ?? 0) + dx } : item
