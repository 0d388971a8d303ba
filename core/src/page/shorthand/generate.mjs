/**
 * Turns figurae.grammar into parser.generated.ts and terms.generated.ts, which are committed.
 * Run it after a change of the grammar; grammar.test.ts fails while the two do not belong together.
 */
import { readFileSync, writeFileSync } from "node:fs"
import { pathToFileURL } from "node:url"
import { buildParserFile } from "@lezer/generator"

const here = new URL("./", import.meta.url)
const HEAD = "// Made by generate.mjs from figurae.grammar: change that, not this.\n"

/** The two files that belong to the grammar as it stands, by name. */
export function generate() {
  const grammar = readFileSync(new URL("figurae.grammar", here), "utf8")
  const made = buildParserFile(grammar, { fileName: "figurae.grammar", typeScript: true, moduleStyle: "es" })
  return {
    "parser.generated.ts": HEAD + made.parser,
    "terms.generated.ts": HEAD + made.terms,
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  for (const [name, text] of Object.entries(generate())) writeFileSync(new URL(name, here), text)
