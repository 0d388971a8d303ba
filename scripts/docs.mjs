// node scripts/docs.mjs: writes the pages of docs/ that are made from the code. Run it after a change of rules or options.
import { writeFileSync } from "node:fs"
import { inRoot } from "./lib/tools.mjs"
import { optionsPage } from "./lib/options-page.mjs"

const { PRACTICES } = await import("../core/dist/index.js")
writeFileSync(inRoot("docs", "options.md"), optionsPage(PRACTICES))
console.log("Written: docs/options.md")
