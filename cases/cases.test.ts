import { readdirSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { judge } from "./judge.js"
import { parseCases } from "./load.js"

const folder = new URL("./", import.meta.url)
const files = readdirSync(folder).filter(name => name.endsWith(".txt"))

describe.each(files)("%s", file => {
  const cases = parseCases(readFileSync(new URL(file, folder), "utf8"), file)
  const runs = cases.flatMap(one => one.practices.map(practice => [practice, one.line, one.title, one] as const))
  test.each(runs)("%s, line %i: %s", (practice, _line, _title, one) => {
    expect(judge(one, practice).join("\n")).toBe("")
  })
})

test("no two cases show the same signs under the same practice and options", () => {
  const seen = new Map<string, string>()
  const twins: string[] = []
  for (const file of files)
    for (const one of parseCases(readFileSync(new URL(file, folder), "utf8"), file)) {
      const key = JSON.stringify([one.practices, one.options, one.shorthand])
      const here = `${file}, line ${one.line}`
      if (seen.has(key)) twins.push(`${here} repeats ${seen.get(key)}`)
      seen.set(key, here)
    }
  expect(twins).toEqual([])
})
