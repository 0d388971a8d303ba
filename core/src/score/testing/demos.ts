/** For tests: the demo pieces, read. */
import { readdirSync, readFileSync } from "node:fs"
import { parseShorthand, type Page } from "../../page/index.js"
import { readPage, type Reading } from "../../reading/index.js"

const folder = new URL("../../../../demo/", import.meta.url)

export const DEMOS: readonly string[] = readdirSync(folder)
  .filter(name => name.endsWith(".figurae"))
  .sort()

export function demoPiece(name: string): { page: Page; readings: Reading[] } {
  const page = parseShorthand(readFileSync(new URL(name, folder), "utf8"), name)
  if (!page.ok) throw new Error(`${name} is not read`)
  return { page: page.value, readings: readPage(page.value) }
}
