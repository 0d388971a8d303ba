// npm run collisions: draws generated pages (500 without --count N) in every way and counts what stands in the way of what. The
// first ten of each way are shown; all of them stand in out/collisions.txt.
import { mkdirSync, writeFileSync } from "node:fs"
import { checkNode, giveUp, inRoot, install, step } from "./lib/tools.mjs"
import { bundled } from "./lib/bundle.mjs"

checkNode()
install()
const at = process.argv.indexOf("--count")
const count = at < 0 ? 500 : Number(process.argv[at + 1])
if (!Number.isInteger(count) || count < 1) giveUp("Write a whole number after --count: how many pages are to be drawn.")
const { collisionReport, TOLERANCE } = await bundled(`
  export { collisionReport } from "./core/src/drawing/testing/collision-report.ts"
  export { TOLERANCE } from "./core/src/drawing/testing/collisions.ts"`)

step(`Drawing ${count} generated pages; overlaps of less than ${TOLERANCE} staff spaces are not counted`)
const all = []
for (const { way, drawn, bodies, met } of collisionReport(count)) {
  console.log(
    `  ${way.padEnd(34)}${String(drawn).padStart(5)} drawn   ${String(bodies).padStart(7)} signs and texts   ${met.length} meet`,
  )
  for (const one of met.slice(0, 10)) console.log(`      ${one}`)
  all.push(...met.map(one => `${way}, ${one}\n`))
}
mkdirSync(inRoot("out"), { recursive: true })
writeFileSync(inRoot("out", "collisions.txt"), all.join(""))
process.exit(all.length > 0 ? 1 : 0)
