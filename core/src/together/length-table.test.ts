/** Merged lists of lengths hold what going through all of them one by one would give. */
import { expect, test } from "vitest"
import { randomFrom } from "../reading/testing/random.js"
import { LengthTable } from "./length-table.js"
import type { Way } from "./voice-graph.js"

test("of the lengths by several ways each is kept once, at its least cost, and the cheapest of very many", () => {
  const random = randomFrom(7)
  for (let round = 0; round < 60; round++) {
    const table = new LengthTable(200)
    const ways: Way[] = []
    const all = new Map<number, number>()
    const dearest = 30
    const count = 1 + random.below(round < 20 ? 3 : 150)
    for (let to = 1; to <= count; to++) {
      const [time, cost] = [random.below(120), random.below(12)]
      table.put(to, time, cost)
      const way = { to, lasts: random.below(4), cost: random.below(24), figure: 0 } as Way
      ways.push(way)
      const total = way.cost + cost
      const known = all.get(time + way.lasts) ?? Infinity
      if (total <= dearest && total < known) all.set(time + way.lasts, total)
    }
    table.putMerged(0, ways, way => way.lasts, dearest)
    const wanted = [...all].sort((a, b) => a[1] - b[1]).slice(0, 64)
    const found: [number, number][] = []
    table.forEach(0, (time, cost) => found.push([time, cost]))
    expect(found).toEqual(wanted.sort((a, b) => a[0] - b[0]))
    for (const [time, cost] of wanted) expect(table.get(0, time)).toBe(cost)
  }
})
