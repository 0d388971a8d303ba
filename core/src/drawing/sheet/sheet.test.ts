/** The kept pictures are those that the code draws: whoever changes a form sees it there, and looks at it. */
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { parseShorthand } from "../../page/shorthand/index.js"
import { drawPage } from "../page/index.js"
import { toSvg } from "../scene/svg.js"
import { manualTime } from "../testing/manual-time.js"
import { signSheet } from "./sheet.js"

const kept = (name: string) => readFileSync(new URL(`../../../../${name}`, import.meta.url), "utf8")

test("the sheet of signs is the one in the manual (if not: npm run sheet, and look at it)", () => {
  expect(toSvg(signSheet()) === kept("docs/signs.svg")).toBe(true)
})
test("the page in the manual is the first demo piece as it is drawn now (if not: npm run sheet, and look at it)", () => {
  const page = parseShorthand(kept("demo/1-ordo-tenor.figurae"), "demo")
  if (!page.ok) throw new Error("the demo piece cannot be read")
  expect(toSvg(drawPage(page.value, { width: 1000 })) === kept("docs/page.svg")).toBe(true)
})
test("so is the part of a time view (if not: npm run sheet, and look at it)", () => {
  const page = parseShorthand(kept("demo/5-changing-signs.figurae"), "demo")
  if (!page.ok) throw new Error("the demo piece cannot be read")
  expect(toSvg(manualTime(page.value)) === kept("docs/time.svg")).toBe(true)
})
