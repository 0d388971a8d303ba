import { readFileSync } from "node:fs"
import { PRACTICES, RULE_IDS, optionValueTold } from "@resolutio/core"
import { expect, test } from "vitest"
// @ts-expect-error -- a script without types
import { optionsPage } from "../scripts/lib/options-page.mjs"

test("the page of options says what the code says (if not: npm run build, node scripts/docs.mjs)", () => {
  const page = readFileSync(new URL("options.md", import.meta.url), "utf8")
  expect(page).toBe(optionsPage(PRACTICES, RULE_IDS, optionValueTold))
})

test("every option has a meaning and a source, and its default is one of its values", () => {
  const bare = PRACTICES.flatMap(({ name, options }) =>
    options
      .filter(one => !one.meaning || !one.source || !one.values.includes(one.default))
      .map(one => `${name}: ${one.name}`),
  )
  expect(bare).toEqual([])
})
