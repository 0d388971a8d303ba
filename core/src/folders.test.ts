/** A stranger finds the way: every step of the data has a page about it and one door. */
import { existsSync, readdirSync, readFileSync } from "node:fs"
import { dirname, join } from "node:path"
import { fileURLToPath } from "node:url"
import { expect, test } from "vitest"

const source = fileURLToPath(new URL(".", import.meta.url))
const foldersIn = (folder: string) =>
  readdirSync(join(source, folder), { withFileTypes: true })
    .filter(entry => entry.isDirectory() && entry.name !== "testing")
    .map(entry => (folder === "" ? entry.name : `${folder}/${entry.name}`))

/** Formats have a door each; together they need none. */
const steps = [...foldersIn("").filter(name => name !== "formats"), ...foldersIn("formats")]

test.each(steps)("%s has one door and a page about it", folder => {
  expect(existsSync(join(source, folder, "index.ts"))).toBe(true)
  expect(existsSync(join(source, folder, "README.md"))).toBe(true)
})

test("the page about all of them names each, and what the pages point to is there", () => {
  const overview = readFileSync(join(source, "README.md"), "utf8")
  expect(foldersIn("").filter(name => !overview.includes(`(${name}/README.md)`))).toEqual([])
  const pages = ["README.md", "formats/README.md", ...steps.map(folder => `${folder}/README.md`)]
  const lost = pages.flatMap(page =>
    [...readFileSync(join(source, page), "utf8").matchAll(/\]\((?!http)([^)#]+)/g)]
      .map(found => found[1]!)
      .filter(link => !existsSync(join(source, dirname(page), link)))
      .map(link => `${page}: ${link}`),
  )
  expect(lost).toEqual([])
})
