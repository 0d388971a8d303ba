import * as fc from "fast-check"
import { expect, it } from "vitest"
import { everySign } from "../walk.js"
import { randomPage } from "./random-page.js"

it("gives pages that JSON can hold, with an id for every sign", () => {
  const kinds = new Set<string>()
  fc.assert(
    fc.property(randomPage(), page => {
      expect(JSON.parse(JSON.stringify(page))).toEqual(page)
      const signs = page.voices.flatMap(voice => [...everySign(voice.signs)])
      const ids = [...signs, ...page.alternatives.flatMap(one => [...everySign(one.signs)])].map(sign => sign.id)
      expect(new Set(ids).size).toBe(ids.length)
      for (const sign of signs) kinds.add(sign.kind)
    }),
    { numRuns: 100 },
  )
  expect(kinds.size).toBe(15)
})
