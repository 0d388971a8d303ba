import "fake-indexeddb/auto"
import { afterEach, describe, expect, test } from "vitest"
import type { Page } from "@resolutio/core"
import { Database, Gone, Overtaken } from "./database.js"
import type { Base, PieceRecord, Step } from "./types.js"

const PAGE: Page = { title: "A", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] }
const RECORD: PieceRecord = { id: "p", title: "A", voices: [], opened: 1, changed: 1, at: 0, first: 0, revision: 0 }
const BASE: Base = { id: "p", page: PAGE }
const step = (title: string, stamp: number): Step => ({
  change: { kind: "set-title", title },
  undo: { kind: "set-title", title: "A" },
  words: title,
  stamp,
})
let running = 0
const database = (): Database => new Database(`test ${++running}`)
let open: Database[] = []
afterEach(async () => {
  await Promise.all(open.map(one => one.destroy()))
  open = []
})
async function withPiece(): Promise<Database> {
  const one = database()
  open.push(one)
  await one.replace({ record: RECORD, base: BASE, steps: [] })
  return one
}

describe("pieces in the database", () => {
  test("a piece comes back with its steps in their order", async () => {
    const one = await withPiece()
    for (let n = 1; n <= 12; n++) await one.step({ ...RECORD, at: n, revision: n }, step(`${n}`, n))
    const kept = await one.read("p")
    expect(kept?.steps.map(({ words }) => words)).toEqual(Array.from({ length: 12 }, (_, i) => `${i + 1}`))
    expect(kept?.record.at).toBe(12)
    expect(kept?.base).toEqual(BASE)
  })
  test("a step after an undo takes the place of what could have been done again", async () => {
    const one = await withPiece()
    await one.step({ ...RECORD, at: 1, revision: 1 }, step("one", 1))
    await one.step({ ...RECORD, at: 2, revision: 2 }, step("two", 2))
    await one.note({ ...RECORD, at: 1, revision: 3 })
    expect((await one.read("p"))?.steps).toHaveLength(2)
    await one.step({ ...RECORD, at: 2, revision: 4 }, step("other", 4))
    expect((await one.read("p"))?.steps.map(({ words }) => words)).toEqual(["one", "other"])
  })
  test("who has not seen the last writing does not write", async () => {
    const one = await withPiece()
    await one.step({ ...RECORD, at: 1, revision: 1 }, step("one", 1))
    await expect(one.step({ ...RECORD, at: 1, revision: 1 }, step("late", 1))).rejects.toThrow(Overtaken)
    await expect(one.note({ ...RECORD, revision: 7 })).rejects.toThrow(Overtaken)
    expect((await one.read("p"))?.steps.map(({ words }) => words)).toEqual(["one"])
    await one.remove("p")
    await expect(one.note({ ...RECORD, revision: 2 })).rejects.toThrow(Gone)
    expect(await one.read("p")).toBeUndefined()
  })
  test("a new base lets go of the steps before it", async () => {
    const one = await withPiece()
    for (let n = 1; n <= 5; n++) await one.step({ ...RECORD, at: n, revision: n }, step(`${n}`, n))
    await one.rebase({ ...RECORD, at: 5, first: 3, revision: 6 }, { ...BASE, page: { ...PAGE, title: "3" } })
    const kept = await one.read("p")
    expect(kept?.steps.map(({ words }) => words)).toEqual(["4", "5"])
    expect(kept?.base.page.title).toBe("3")
  })
  test("the last opened stands first; one piece's steps are not another's", async () => {
    const one = await withPiece()
    await one.replace({
      record: { ...RECORD, id: "q", opened: 5 },
      base: { ...BASE, id: "q" },
      steps: [step("q1", 1), step("q2", 2)],
    })
    expect((await one.list()).map(({ id }) => id)).toEqual(["q", "p"])
    await one.remove("p")
    expect((await one.read("q"))?.steps).toHaveLength(2)
  })
})
