/** The page about files names every column of the table, in order, and every ending that can be written. */
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { run } from "../cli/src/program.js"
import { CSV_COLUMNS } from "../core/src/formats/csv/index.js"

const page = readFileSync(new URL("files.md", import.meta.url), "utf8")

test("columns of the table", () => {
  const named = [...page.slice(page.indexOf("## CSV")).matchAll(/^\| `([^`]+)` \|/gm)].map(([, name]) => name)
  expect(named).toEqual(["file", ...CSV_COLUMNS])
})
test("endings", async () => {
  const out: string[] = []
  await run(["help", "score"], { out: text => void out.push(text), err: () => {}, colour: false })
  const endings = [...out.join("\n").matchAll(/\.(mei|musicxml|mxl|mid|csv)\b/g)].map(([ending]) => ending)
  expect(endings.length).toBeGreaterThan(4)
  for (const ending of endings) expect(page).toContain(ending)
})
