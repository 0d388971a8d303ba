/** The pictures of the page about figures are what the program draws now, and the page names all there is. */
import { existsSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { drawFigure, FIGURE_KINDS, FIGURE_SIZES, THEMES, toSvg } from "@resolutio/core"

const page = readFileSync(new URL("figures.md", import.meta.url), "utf8")

describe.each(FIGURE_KINDS.map(one => one.name))("%s", kind => {
  test("has a heading and its picture (if it is old: npm run figures)", () => {
    expect(page).toContain(`### ${kind}\n`)
    const figure = drawFigure({ kind })
    if (!figure.ok) throw new Error(kind)
    const file = new URL(`figures/${kind}.svg`, import.meta.url)
    expect(existsSync(file)).toBe(true)
    const main = figure.value.pictures.find(one => one.number === "")!
    const kept = readFileSync(file, "utf8")
    const now = toSvg(main.scene)
    // forms of signs may be drawn better; what is said and how large it is has to be the same
    expect([...kept.matchAll(/>([^<\n]+)<\//g)].map(([, text]) => text)).toEqual(
      [...now.matchAll(/>([^<\n]+)<\//g)].map(([, text]) => text),
    )
    expect(/viewBox="[^"]+"/.exec(kept)![0]).toBe(/viewBox="[^"]+"/.exec(now)![0])
  })
})
test("sizes and themes", () => {
  for (const { name } of [...FIGURE_SIZES, ...THEMES]) expect(page).toContain(`\`${name}\``)
})
