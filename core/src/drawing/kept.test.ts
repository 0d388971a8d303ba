/** The kept pictures: `npm run pictures` makes them, shows what differs, and writes them anew. */
import { existsSync, readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { fromRoot, PICTURES } from "./testing/pictures.js"
import { differenceOf, rendered } from "./testing/raster.js"

const kept = (name: string) => new URL(`kept/${name}.png`, import.meta.url)

test.each(PICTURES.map(one => [one.name, one] as const))(
  "%s looks as it was kept (if not: npm run pictures)",
  (name, picture) => {
    expect(existsSync(kept(name))).toBe(true)
    const { same, told } = differenceOf(readFileSync(kept(name)), rendered(picture, fromRoot))
    expect([name, told, same]).toEqual([name, told, true])
  },
)

test("a picture in which one note is higher is told from the kept one", () => {
  const picture = PICTURES.find(one => one.name === "page-phone")!
  const other = rendered(picture, path => fromRoot(path).replace("L d4 B c", "L f4 B c"))
  expect(differenceOf(readFileSync(kept("page-phone")), other).same).toBe(false)
})
