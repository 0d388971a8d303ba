import { expect, test } from "vitest"
import { PRACTICES } from "@resolutio/core"
import { plainValue } from "./option-words.js"

test("values of options are said in words, not as a program writes them", () => {
  expect(["by-threes", "acm-1280", "tractatus-c1275", "twoPlusOne", "3/2", "true"].map(plainValue)).toEqual([
    "by threes",
    "as of 1280",
    "as of c. 1275",
    "two plus one",
    "3/2",
    "yes",
  ])
  const all = PRACTICES.flatMap(({ options }) => options.flatMap(({ values }) => values)).map(plainValue)
  for (const plain of all) expect(plain).not.toMatch(/[a-z]-|[a-z][A-Z]|[a-z]\d/)
})
