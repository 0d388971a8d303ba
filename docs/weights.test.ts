import { readFileSync } from "node:fs"
import { PRACTICES } from "@resolutio/core"
import { expect, test } from "vitest"
import { untold, weightsPage } from "../scripts/lib/weights-page.js"

test("the page of weights says what the code says (if not: npm run build, node scripts/docs.mjs)", () => {
  const page = readFileSync(new URL("weights.md", import.meta.url), "utf8")
  expect(page).toBe(weightsPage())
})

test("each weight is told, and is a price: never less than nothing", () => {
  for (const practice of PRACTICES) {
    expect(untold(practice)).toEqual([])
    expect(Object.entries(practice.weights).filter(([, cost]) => !(cost >= 0))).toEqual([])
  }
})
