/** The page about conventions names every one with its flag and values, every style and every clef. */
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { CLEF_NAMES, CONVENTIONS, HOUSE_STYLES } from "../core/src/edition/index.js"

const page = readFileSync(new URL("edition.md", import.meta.url), "utf8")
const flagOf = (name: string) => `--${name.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`)}`

test.each(CONVENTIONS.map(one => [flagOf(one.name), one.choices] as const))("%s", (flag, choices) => {
  const row = page.split("\n").find(line => line.startsWith(`| \`${flag}\` |`))
  const named = [...(row?.split("|")[3] ?? "").matchAll(/`([a-z-]+)`/g)].map(([, value]) => value!)
  expect(named).toEqual(choices.map(({ value }) => value))
})
test("styles, each with its picture", () => {
  for (const { name } of HOUSE_STYLES)
    expect(page).toMatch(new RegExp(`### ${name}\n\n!\\[[^\\]]+\\]\\(edition/${name}\\.svg\\)`))
})
test("clefs", () => {
  for (const name of CLEF_NAMES) expect(page).toContain(`\`${name}\``)
})
