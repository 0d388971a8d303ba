/** Of a long piece a first reading is told soon; what is told in the end is what reading afresh says. */
import { expect, test } from "vitest"
import { equals } from "../base/index.js"
import { applyChange } from "../page/index.js"
import { readingTogether, readTogether } from "./read-together.js"
import { lawfulPiece } from "./testing/lawful-piece.js"

/** Notes that may be read otherwise at first: a few in a thousand are, in invented pieces. */
const MOST_OTHERWISE = 0.02

test("a long piece is read at a glance first, nearly as it is read when all has been searched", () => {
  const { page } = lawfulPiece(21, { practice: "ars-nova", voices: 8, notes: 520, doubtful: 0.1 })
  const last = readTogether(page)
  const sign = page.voices[2]!.signs.findLast((one, i) => one.kind === "note" && i < 260)!.id
  const changed = applyChange(page, { kind: "delete-sign", sign })
  if (!changed.ok) throw new Error("does not fit")
  const told = [...toldBy(readingTogether(changed.value.page, {}, last))]
  expect(told.length).toBeGreaterThan(1)
  const [glanced, all] = [told[0]!.readings, told.at(-1)!.readings]
  expect(all).toEqual(readTogether(structuredClone(changed.value.page)).readings)
  const signs = all.flatMap((reading, v) => reading.signs.map((one, i) => [one, glanced[v]!.signs[i]!] as const))
  const otherwise = signs.filter(([one, other]) => one.id !== other.id || !equals(one.duration, other.duration))
  expect(otherwise.length).toBeLessThan(MOST_OTHERWISE * signs.length)
})

test("a short piece that meets is told once", () => {
  const { page } = lawfulPiece(21, { practice: "ars-nova", voices: 3, notes: 40, doubtful: 0.1 })
  expect([...toldBy(readingTogether(page))]).toHaveLength(1)
})

/** All that is told, the last included. */
function* toldBy<T>(steps: Generator<T, T, void>): Generator<T> {
  for (;;) {
    const { done, value } = steps.next()
    yield value
    if (done) return
  }
}
