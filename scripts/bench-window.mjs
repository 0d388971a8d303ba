// node scripts/bench-window.mjs [cold] [typing] [frames] [small]: how quick the workbench is, in a real browser. Prints what it
// measured on this machine, each beside its limit. `small`: only the smaller piece.
import { cpus, loadavg } from "node:os"
import { readFileSync } from "node:fs"
import { gzipSync } from "node:zlib"
import { chromium } from "playwright-core"
import { bundled } from "./lib/bundle.mjs"
import { serve } from "./lib/serve.mjs"
import { checkNode, giveUp, inRoot, install, runNode, step } from "./lib/tools.mjs"

const BROWSER = process.env.RESOLUTIO_CHROMIUM ?? "/usr/bin/chromium"
const SIZES = [
  { voices: 4, signs: 500, presses: 120, own: 16.7, joint: 100 },
  { voices: 8, signs: 1500, presses: 40, own: 33, joint: 400 },
]
const USABLE = 1500
const FETCHED = 400
const FRAMES = 55
const wanted = process.argv.slice(2).filter(one => one !== "small")
const isWanted = part => wanted.length === 0 || wanted.includes(part)
let missed = 0

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
  if (isWanted("cold")) await cold()
  const sizes = process.argv.includes("small") ? SIZES.slice(0, 1) : SIZES
  if (isWanted("typing")) for (const size of sizes) await typing(size)
  if (isWanted("frames")) await frames()
  console.log(
    `\n${missed === 0 ? "Every limit is kept" : `${missed} missed`}; load at the end ${loadavg()[0].toFixed(1)}`,
  )
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
  line("time", median(times), { unit: "ms", most: USABLE }, "median of 5")
  line("fetched", bytes / 1000, { unit: "kB", most: FETCHED }, `gzip -9 of ${fetched.size} files; fonts as they are`)
}

function sizeOf(path) {
  const file = inRoot("web", "dist", path === "/" ? "index.html" : path.slice(1))
  const content = readFileSync(file)
  return file.endsWith(".woff2") ? content.length : gzipSync(content, { level: 9 }).length
}

/**
 * A key that takes a note away, somewhere else each time, or puts it back: what the window's own thread does for it; when all voices
 * have been read together; and when all that is to be said of them has been found out. While the first is measured, what the
 * other threads tell is held back: it is no part of it, and would come in its midst.
 */
async function typing({ voices, signs, presses, own: ownMost, joint: jointMost }) {
  const page = await pieceIn(voices, signs)
  const client = await page.context().newCDPSession(page)
  await client.send("Performance.enable", { timeDomain: "threadTicks" })
  await page.evaluate(watchStatus)
  const [own, joint, all] = [[], [], []]
  for (let turn = 0; turn < 2 * presses; turn++) {
    const isHeld = turn < presses
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight")
    await settled(page)
    await page.evaluate(held => window.hold(held), isHeld)
    const before = await scriptTime(client)
    await page.keyboard.press(turn % 2 === 0 ? "Delete" : "Control+z")
    await page.evaluate(() => new Promise(done => requestAnimationFrame(() => done(undefined))))
    if (isHeld) own.push((await scriptTime(client)) - before)
    await page.evaluate(() => window.hold(false))
    await settled(page)
    if (isHeld) continue
    const { read, found } = await page.evaluate(() => window.statusTimes())
    joint.push(read)
    all.push(found)
  }
  console.log(
    `\nA key press in a piece of ${voices} × ${signs} notes and rests, Page and Time open, ${presses} presses for each`,
  )
  line(
    "own voice",
    quantile(own, 0.95),
    { unit: "ms", most: ownMost, digits: 1 },
    `script on the window's thread (its own clock), 95th percentile; median ${median(own).toFixed(1)}`,
  )
  line(
    "all voices",
    quantile(joint, 0.95),
    { unit: "ms", most: jointMost },
    `until all are read together, a long piece at a glance, by the window's clock, 95th percentile; median ${median(joint).toFixed(0)}`,
  )
  const found = `${quantile(all, 0.95).toFixed(0)} ms`.padStart(10)
  console.log(
    `  ${"all found".padEnd(12)} ${found}   until all is searched, and which voice does not fit; median ${median(all).toFixed(0)}`,
  )
  await page.context().close()
}

/** In the window, before it begins: what other threads tell can be held back for a while. */
function holdMessages() {
  let isHeld = false
  const held = []
  window.Worker = class extends window.Worker {
    addEventListener(name, take) {
      super.addEventListener(name, event => {
        if (isHeld && name === "message") held.push(() => take(event))
        else take(event)
      })
    }
  }
  window.hold = wanted => {
    isHeld = wanted
    if (!isHeld) for (const run of held.splice(0)) run()
  }
}

/** In the window: keeps when the last key came, when its reading was told, and when all was known. The driver's own clock is slower. */
function watchStatus() {
  let [key, read, found] = [0, NaN, NaN]
  addEventListener("keydown", event => ([key, read, found] = [event.timeStamp, NaN, NaN]), true)
  const status = document.querySelector("footer [role=status]")
  const look = () => {
    const text = status.textContent ?? ""
    if (/^Reading/.test(text)) [read, found] = [NaN, NaN]
    else if (Number.isNaN(read)) read = performance.now() - key
    if (/^Read\./.test(text) && Number.isNaN(found)) found = performance.now() - key
  }
  new MutationObserver(look).observe(status, { childList: true, subtree: true, characterData: true })
  window.statusTimes = () => ({ read, found })
}

/** Frames that come while the bands are scrolled, and while a piece sounds; and how much of each the window's thread works. */
async function frames() {
  const { voices, signs } = SIZES[0]
  const page = await pieceIn(voices, signs)
  const client = await page.context().newCDPSession(page)
  await client.send("Performance.enable", { timeDomain: "threadTicks" })
  console.log(`\nFrames in a piece of ${voices} × ${signs} notes and rests, Page and Time open`)
  for (const band of ["page", "time"]) {
    const box = await page.locator(`section.${band} .listbox`).boundingBox()
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    const until = new AbortController()
    const scroll = (async () => {
      for (let way = 1; !until.signal.aborted; way = -way)
        for (let i = 0; i < 40 && !until.signal.aborted; i++) {
          await page.mouse.wheel(0, way * 60)
          await page.waitForTimeout(16)
        }
    })()
    await tellFrames(client, page, `scroll ${band}`, "wheel by 60 px")
    until.abort()
    await scroll
  }
  await page.keyboard.press("Home")
  await page.keyboard.press(" ")
  await page.locator("path.wedge").waitFor({ timeout: 240_000 })
  await tellFrames(client, page, "playback", "wedge and signs followed")
  await page.context().close()
}

async function tellFrames(client, page, what, how) {
  const before = await threadTime(client)
  const count = await page.evaluate(
    () =>
      new Promise(done => {
        let frames = 0
        const start = performance.now()
        const next = now => {
          frames++
          if (now - start < 3000) requestAnimationFrame(next)
          else done((1000 * frames) / (now - start))
        }
        requestAnimationFrame(next)
      }),
  )
  const work = ((await threadTime(client)) - before) / (count * 3)
  line(what, count, { unit: "fps", least: FRAMES }, `${how}; the window's thread works ${work.toFixed(1)} ms in each`)
}

async function threadTime(client) {
  const { metrics } = await client.send("Performance.getMetrics")
  return 1000 * metrics.find(one => one.name === "TaskDuration").value
}

async function pieceIn(voices, signs) {
  const page = await (
    await browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers: "block" })
  ).newPage()
  await page.addInitScript(holdMessages)
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
function line(what, value, { unit, most, least, digits = 0 }, how) {
  const isKept = most === undefined ? value >= least : value <= most
  if (!isKept) missed++
  const limit = most === undefined ? `at least ${least}` : `at most ${most}`
  const shown = `${value.toFixed(digits)} ${unit}`
  console.log(`  ${what.padEnd(12)} ${shown.padStart(10)}   ${limit}: ${isKept ? "kept" : "MISSED"}   ${how}`)
}
