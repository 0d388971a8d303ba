import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
// @ts-expect-error: a build script without types
import { generate } from "./generate.mjs"

test("the committed parser belongs to the grammar", () => {
  for (const [name, text] of Object.entries(generate() as Record<string, string>))
    expect(readFileSync(new URL(name, import.meta.url), "utf8"), `${name}: run generate.mjs`).toBe(text)
})
