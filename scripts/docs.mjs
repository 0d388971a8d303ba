// node scripts/docs.mjs: writes what in docs/ is made from the code or by running it: the page of options and the
// answers in the guide. Run it after a build when rules, options or what the program prints have changed.
import { spawnSync } from "node:child_process"
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { filled } from "./lib/guide.mjs"
import { optionsPage } from "./lib/options-page.mjs"
import { inRoot } from "./lib/tools.mjs"

const { PRACTICES, RULE_IDS } = await import("../core/dist/index.js")
writeFileSync(inRoot("docs", "options.md"), optionsPage(PRACTICES, RULE_IDS))

const folder = mkdtempSync(join(tmpdir(), "resolutio-guide-"))
const guide = inRoot("docs", "guide.md")
const page = await filled(
  readFileSync(guide, "utf8"),
  (name, text) => writeFileSync(join(folder, name), text),
  args => {
    const { stdout, stderr } = spawnSync(process.execPath, [inRoot("cli/bin/resolutio.mjs"), ...args], {
      cwd: folder,
      encoding: "utf8",
    })
    return stdout + stderr
  },
)
rmSync(folder, { recursive: true })
writeFileSync(guide, page)
console.log("Written: docs/options.md, docs/guide.md")
