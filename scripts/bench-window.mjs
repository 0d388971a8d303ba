// node scripts/bench-window.mjs: how quick the workbench is, in a real browser. Prints what it measured on this machine.
import { cpus, loadavg } from "node:os"
import { readFileSync } from "node:fs"
import { gzipSync } from "node:zlib"
import { chromium } from "playwright-core"
import { bundled } from "./lib/bundle.mjs"
import { serve } from "./lib/serve.mjs"
import { checkNode, giveUp, inRoot, install, runNode, step } from "./lib/tools.mjs"

const BROWSER = process.env.RESOLUTIO_CHROMIUM ?? "/usr/bin/chromium"
const SIZES = [
  { voices: 4, signs: 500, presses: 60 },
  { voices: 8, signs: 1500, presses: 10 },
]

checkNode()
install()
step("Building")
if (runNode("scripts/build.mjs") !== 0) giveUp("The build failed; its message stands above.")
const { lawfulPiece, printShorthand } = await bundled(`
  export { lawfulPiece } from "./core/src/together/testing/lawful-piece.ts"
  export { printShorthand } from "./core/src/page/index.ts"`)

const { server, address } = await serve(inRoot("web", "dist"))
const browser = await chromium.launch({ executablePath: BROWSER, args: ["--no-sandbox", "--disable-gpu"] })
step(
  `Measuring on ${browser.version()}, ${cpus().length} × ${cpus()[0]?.model ?? "processor"}, load ${loadavg()[0].toFixed(1)}`,
)
try {
  await cold()
  // node scripts/bench-window.mjs small: only the first size
  for (const size of process.argv.includes("small") ? SIZES.slice(0, 1) : SIZES) await typing(size)
} finally {
  await browser.close()
  server.close()
  server.closeAllConnections()
}

/** What is fetched before the demo piece can be asked, and when it can. */
async function cold() {
  const times = []
  let fetched = new Map()
  for (let turn = 0; turn < 5; turn++) {
    const page = await (await browser.newContext({ serviceWorkers: "block" })).newPage()
    fetched = new Map()
    page.on("response", answer => fetched.set(new URL(answer.url()).pathname, answer.status()))
    const start = performance.now()
    await page.goto(address)
    await page.locator("section.time svg .duration").first().waitFor()
    times.push(performance.now() - start)
    await page.context().close()
  }
  const bytes = [...fetched.keys()].reduce((sum, path) => sum + sizeOf(path), 0)
  console.log("\nFrom a cold cache to the demo piece in time")
  line("time", `${median(times).toFixed(0)} ms`, "median of 5")
  line("fetched", `${(bytes / 1000).toFixed(0)} kB`, `gzip -9 of ${fetched.size} files; fonts as they are`)
}

function sizeOf(path) {
  const file = inRoot("web", "dist", path === "/" ? "index.html" : path.slice(1))
  const content = readFileSync(file)
  return file.endsWith(".woff2") ? content.length : gzipSync(content, { level: 9 }).length
}

/** A key that changes the level of a note, somewhere else each time: what the window's own thread does for it, and when all is read. */
async function typing({ voices, signs, presses }) {
  const page = await pieceIn(voices, signs)
  const client = await page.context().newCDPSession(page)
  await client.send("Performance.enable", { timeDomain: "threadTicks" })
  const [own, joint] = [[], []]
  for (let turn = 0; turn < presses; turn++) {
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight")
    await settled(page)
    const before = await scriptTime(client)
    const start = performance.now()
    await page.keyboard.press(turn % 2 === 0 ? "Delete" : "Control+z")
    await page.evaluate(() => new Promise(done => requestAnimationFrame(() => done(undefined))))
    own.push((await scriptTime(client)) - before)
    await settled(page)
    joint.push(performance.now() - start)
  }
  console.log(
    `\nA key press in a piece of ${voices} × ${signs} notes and rests, Page and Time open, ${presses} presses`,
  )
  line(
    "own voice",
    `${quantile(own, 0.95).toFixed(1)} ms`,
    `script on the window's thread (its own clock), 95th percentile; median ${median(own).toFixed(1)}`,
  )
  line(
    "all voices",
    `${quantile(joint, 0.95).toFixed(0)} ms`,
    `until all is read together, 95th percentile; median ${median(joint).toFixed(0)}`,
  )
  await page.context().close()
}

async function pieceIn(voices, signs) {
  const page = await (
    await browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers: "block" })
  ).newPage()
  await page.goto(address)
  await settled(page)
  const text = printShorthand({
    ...lawfulPiece(3, { practice: "ars-nova", voices, notes: signs, doubtful: 0.1 }).page,
    title: "Bench",
  })
  await page.keyboard.press("o")
  await page
    .locator("input[type=file]")
    .setInputFiles({ name: "bench.figurae", mimeType: "text/plain", buffer: Buffer.from(text) })
  await page.getByRole("heading", { level: 1, name: "Bench" }).waitFor({ timeout: 120_000 })
  await page.keyboard.press("1")
  await settled(page)
  return page
}

function settled(page) {
  return page
    .getByRole("status")
    .filter({ hasText: /^Read\./ })
    .waitFor({ timeout: 240_000 })
}

async function scriptTime(client) {
  const { metrics } = await client.send("Performance.getMetrics")
  return 1000 * metrics.find(one => one.name === "ScriptDuration").value
}

function quantile(values, part) {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))]
}
function median(values) {
  return quantile(values, 0.5)
}
function line(what, value, how) {
  console.log(`  ${what.padEnd(12)} ${value.padStart(10)}   ${how}`)
}
