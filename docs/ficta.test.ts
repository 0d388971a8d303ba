/** The page about proposed accidentals tells every rule, with what it rests on, and every grade. */
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { FICTA_GRADES, FICTA_RULES, sourceOfFicta } from "../core/src/ficta/index.js"

const page = readFileSync(new URL("ficta.md", import.meta.url), "utf8")

test.each(FICTA_RULES)("%s", rule => {
  const cells = page
    .split("\n")
    .find(line => line.startsWith(`| \`${rule}\` |`))!
    .split("|")
  if (rule === "same-note") return
  const { treatise, place } = sourceOfFicta(rule)
  expect(cells[4]).toContain(treatise)
  if (/chapter/.test(place)) expect(cells[4]).toContain(place)
})
test("grades", () => {
  for (const grade of FICTA_GRADES) expect(page).toContain(grade)
})
