import "fake-indexeddb/auto"
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest"
import type { Page } from "@resolutio/core"
import { Database } from "../keep/database.js"
import type { PieceRecord, Step } from "../keep/types.js"
import { unwritten, type Act } from "../keep/unwritten.js"
import { Writes } from "./writes.js"

const PAGE: Page = { title: "A", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] }
const RECORD: PieceRecord = { id: "p", title: "A", voices: [], opened: 1, changed: 1, at: 0, first: 0, revision: 0 }
const step = (title: string, stamp: number): Step => ({
  change: { kind: "set-title", title },
  undo: { kind: "set-title", title: "A" },
  words: title,
  stamp,
})
const act = (n: number): Act => ({ record: { ...RECORD, at: n, revision: n }, step: step(`act ${n}`, n) })
const events = { keeping: () => {}, failed: () => {}, overtaken: () => {}, written: () => {} }

/** A window that dies before its database has taken anything. */
class Dead extends Database {
  override step(): Promise<void> {
    return new Promise(() => {})
  }
  override note(): Promise<void> {
    return new Promise(() => {})
  }
}

/** As much of the browser's store as is used, in memory. */
function memory(): Pick<Storage, "length" | "key" | "getItem" | "setItem" | "removeItem"> {
  const all = new Map<string, string>()
  return {
    get length() {
      return all.size
    },
    key: i => [...all.keys()][i] ?? null,
    getItem: key => all.get(key) ?? null,
    setItem: (key, text) => void all.set(key, text),
    removeItem: key => void all.delete(key),
  }
}

let database: Database
let running = 0
beforeEach(async () => {
  vi.stubGlobal("localStorage", memory())
  database = new Database(`writes ${++running}`)
  await database.replace({ record: RECORD, base: { id: "p", page: PAGE }, steps: [] })
})
afterEach(async () => {
  vi.unstubAllGlobals()
  await database.destroy()
})
const kept = async (): Promise<string[]> => (await database.read("p"))?.steps.map(({ words }) => words) ?? []

describe("what is to be kept", () => {
  test("an act outlives its window from the moment it is made", async () => {
    const dead = new Writes(new Dead(database.name), events)
    for (let n = 1; n <= 12; n++) dead.act(act(n), () => undefined)
    expect(await kept()).toEqual([])
    await new Writes(database, events).recover("p")
    expect(await kept()).toEqual(Array.from({ length: 12 }, (_, i) => `act ${i + 1}`))
    expect((await database.read("p"))?.record.revision).toBe(12)
    expect(unwritten("p")).toEqual([])
  })

  test("an undo outlives it too, and what was half written is not written twice", async () => {
    const dead = new Writes(new Dead(database.name), events)
    dead.act(act(1), () => undefined)
    dead.act(act(2), () => undefined)
    dead.act({ record: { ...RECORD, at: 1, revision: 3 } }, () => undefined)
    await database.step(act(1).record, act(1).step!)
    await new Writes(database, events).recover("p")
    expect(await kept()).toEqual(["act 1", "act 2"])
    expect((await database.read("p"))?.record.at).toBe(1)
  })

  test("what the database has is not kept a second time", async () => {
    const writes = new Writes(database, events)
    writes.act(act(1), () => undefined)
    expect(unwritten("p")).toHaveLength(1)
    await writes.settled()
    expect(unwritten("p")).toEqual([])
    expect(await kept()).toEqual(["act 1"])
  })

  test("an act that another window overtook is let go", async () => {
    const dead = new Writes(new Dead(database.name), events)
    for (let n = 1; n <= 3; n++) dead.act(act(n), () => undefined)
    await database.step({ ...act(1).record, changed: 2 }, step("another's", 1))
    await new Writes(database, events).recover("p")
    expect(await kept()).toEqual(["another's"])
    expect(unwritten("p")).toEqual([])
  })
})
