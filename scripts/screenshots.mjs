// npm run screenshots [name …]: every view of the workbench in three sizes, light and dark, as one picture for each view in
// docs/workbench/. To be looked at after whatever changes how it looks.
import { mkdirSync, mkdtempSync, readFileSync, statSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { chromium } from "playwright-core"
import { inventedPhotograph } from "./lib/invented-photograph.mjs"
import { serve } from "./lib/serve.mjs"
import { checkNode, giveUp, inRoot, install, runNode, step } from "./lib/tools.mjs"

const BROWSER = process.env.RESOLUTIO_CHROMIUM ?? "/usr/bin/chromium"
const SIZES = [
  { width: 1920, height: 1080 },
  { width: 1280, height: 800 },
  { width: 390, height: 844 },
]
const GROUNDS = ["light", "dark"]
/** Of the window's px in the picture, its paper, and how exact it is. */
const SCALE = 0.6
const GAP = 14
const QUALITY = 0.62
/** Bytes of all pictures together. */
const MOST = 3_000_000

checkNode()
install()
step("Building")
if (runNode("scripts/build.mjs") !== 0) giveUp("The build failed; its message stands above.")

/** What each view shows, and how one comes there from the demo piece. */
const VIEWS = {
  opening: async () => undefined,
  asked: async page => {
    await press(page, "1", "ArrowRight", "ArrowRight", "ArrowRight")
    await page.locator("section.time .cartouche").waitFor()
  },
  edition: async page => {
    await press(page, "3", "ArrowRight", "ArrowRight")
    await page.locator("section.edition .notehead").first().waitFor({ timeout: 120_000 })
  },
  supposed: async page => {
    await press(page, "1", "ArrowRight", "ArrowRight", "ArrowRight", "q")
    await page.locator(".choice-list button").nth(1).click()
    await page.locator("main.supposed .told ul").first().waitFor()
  },
  deciding: async page => {
    await press(page, "ArrowRight", "ArrowRight", "ArrowRight", "d")
    await page.getByRole("button", { name: "Decide", exact: true }).waitFor()
  },
  doubts: async page => {
    await openDemo(page, 8)
    await press(page, "l")
  },
  measure: async page => {
    await press(page, "m")
    await page.locator(".chapter .voice-name").first().waitFor()
  },
  repeats: async page => {
    await openDemo(page, 0)
    await press(page, "t")
    await page.getByLabel("Of the voice").waitFor()
  },
  accidentals: async page => {
    await press(page, "3", "Shift+A", "Shift+A", "Shift+A", "a")
    await page.locator("section.edition .notehead").first().waitFor({ timeout: 120_000 })
    await press(page, "n")
    await page.locator(".accidentals [aria-current=true]").waitFor()
  },
  "what-if-practice": async page => {
    await press(page, "Shift+Q")
    await page.locator("select[data-first]:focus").waitFor()
    await press(page, "Tab", "A")
    await page.locator(".effect ul").waitFor()
  },
  practice: async page => {
    await press(page, "ArrowRight", "p")
    await page
      .getByText(/^Practice of/)
      .first()
      .waitFor()
  },
  writing: async page => {
    await press(page, "x", "w")
    await page.locator(".cm-content").waitFor()
    await page.locator("section.page .listbox").focus()
    await press(page, "ArrowRight", "ArrowRight", "ArrowRight", "ArrowRight")
    await page.locator(".cm-asked").waitFor()
  },
  listening: async page => {
    await press(page, "1", " ")
    await page.locator("path.wedge").first().waitFor({ timeout: 120_000 })
    await press(page, " ")
  },
  open: async page => {
    await press(page, "o")
    await page.getByRole("region", { name: "Open", exact: true }).waitFor()
  },
  find: async page => {
    await press(page, "/")
    await page.keyboard.type("voice")
  },
  keys: async page => {
    await press(page, "?")
    await page.getByRole("region", { name: "Keys", exact: true }).waitFor()
  },
  export: async page => {
    await press(page, "e")
    await page.getByRole("region", { name: "Export", exact: true }).waitFor()
  },
  walk: async page => {
    await press(page, "h")
    await page.getByText("1 of 15").waitFor()
    await settled(page)
    await press(page, "ArrowRight", "ArrowRight", "ArrowRight")
    await page.getByText("2 of 15").waitFor()
  },
  photograph: async page => {
    await openDemo(page, 2)
    await photographed(page)
  },
  presenting: async page => {
    await press(page, "Shift+P")
    await page.getByRole("status").filter({ hasText: "Signs" }).waitFor()
    for (const name of ["Perfections", "Imperfections"]) {
      await press(page, "ArrowRight")
      await page.getByRole("status").filter({ hasText: name }).waitFor()
    }
  },
  "presenting-page": async page => {
    await press(page, "Shift+P")
    await page.getByRole("status").filter({ hasText: "Signs" }).waitFor()
    await press(page, "1")
    await page.locator(".wall .initial").first().waitFor({ state: "attached" })
  },
}

const { server, address } = await serve(inRoot("web", "dist"))
const browser = await chromium.launch({ executablePath: BROWSER, args: ["--no-sandbox", "--disable-gpu"] })
const folder = inRoot("docs", "workbench")
mkdirSync(folder, { recursive: true })
const wanted = process.argv.slice(2)
const failed = []
let invented
const names = Object.keys(VIEWS).filter(name => wanted.length === 0 || wanted.includes(name))
try {
  const easel = await (await browser.newContext()).newPage()
  const shots = new Map(names.map(name => [name, []]))
  for (const size of SIZES)
    for (const ground of GROUNDS) {
      step(`${size.width} × ${size.height}, ${ground}`)
      for (const name of names) shots.get(name).push(await shot(name, size, ground))
    }
  let sum = 0
  for (const name of names) {
    const file = inRoot("docs", "workbench", `${name}.webp`)
    writeFileSync(file, await montage(easel, shots.get(name)))
    sum += statSync(file).size
    console.log(`  docs/workbench/${name}.webp   ${(statSync(file).size / 1000).toFixed(0)} kB`)
  }
  console.log(`  ${(sum / 1000).toFixed(0)} kB in all`)
  if (failed.length > 0) giveUp(`Not what they should show:\n${failed.join("\n")}`)
  if (sum > MOST) giveUp(`The pictures are larger than ${MOST / 1_000_000} MB together.`)
} finally {
  await browser.close()
  server.close()
  server.closeAllConnections()
}

async function shot(name, viewport, colorScheme) {
  const context = await browser.newContext({ viewport, colorScheme, reducedMotion: "reduce", serviceWorkers: "block" })
  const page = await context.newPage()
  await page.goto(address)
  await settled(page)
  try {
    await VIEWS[name](page)
  } catch (error) {
    failed.push(`${name}, ${viewport.width} × ${viewport.height}, ${colorScheme}: ${error.message.split("\n")[0]}`)
  }
  await page.evaluate(() => document.fonts.ready.then(() => undefined))
  // what follows a paint has followed it
  await page.waitForTimeout(400)
  const picture = await page.screenshot()
  await context.close()
  return { ...viewport, picture: picture.toString("base64") }
}

/** The two largest side by side, the others in a row under them. */
async function montage(easel, all) {
  const data = await easel.evaluate(
    async ({ all, scale, gap, quality }) => {
      const place = (row, top) => {
        let left = gap
        return row.map(one => {
          const at = { ...one, left, top, w: Math.round(one.width * scale), h: Math.round(one.height * scale) }
          left += at.w + gap
          return at
        })
      }
      const first = place(all.slice(0, 2), gap)
      const second = place(all.slice(2), 2 * gap + first[0].h)
      const placed = [...first, ...second]
      const canvas = document.createElement("canvas")
      canvas.width = Math.max(...placed.map(one => one.left + one.w)) + gap
      canvas.height = Math.max(...placed.map(one => one.top + one.h)) + gap
      const pen = canvas.getContext("2d")
      pen.fillStyle = "#8a8378"
      pen.fillRect(0, 0, canvas.width, canvas.height)
      pen.imageSmoothingQuality = "high"
      for (const { picture, left, top, w, h } of placed) {
        const image = new Image()
        image.src = `data:image/png;base64,${picture}`
        await image.decode()
        pen.drawImage(image, left, top, w, h)
      }
      return canvas.toDataURL("image/webp", quality)
    },
    { all, scale: SCALE, gap: GAP, quality: QUALITY },
  )
  return Buffer.from(data.split(",")[1], "base64")
}

async function press(page, ...keys) {
  for (const key of keys) await page.keyboard.press(key)
}
function settled(page) {
  return page
    .getByRole("status")
    .filter({ hasText: /^(Read\.|The last)/ })
    .waitFor({ timeout: 120_000 })
}
async function openDemo(page, number) {
  await press(page, "o")
  await page.getByRole("region", { name: "Look at", exact: true }).getByRole("button").nth(number).click()
  await page.locator("section.time").waitFor()
  await settled(page)
}

/** There is no photograph of a source here: one is invented of the demo piece, and its name says so. */
async function photographed(page) {
  await press(page, "1", "2")
  await page.locator("section.page svg").first().waitFor()
  const buffer = await photograph()
  const chooser = page.waitForEvent("filechooser")
  await press(page, "i")
  await page.getByRole("button", { name: "Add a photograph …", exact: true }).click()
  await (await chooser).setFiles([{ name: "f. 1r (invented).jpg", mimeType: "image/jpeg", buffer }])
  await page.getByRole("img", { name: /^Photograph of the source/ }).waitFor()
  await page.locator("section.page .listbox").focus()
  await press(page, "ArrowRight", "ArrowRight", "Shift+Enter")
  await page.locator(".region.lit").waitFor()
  await press(page, "Enter")
}

/** Made once. */
async function photograph() {
  if (invented) return invented
  const drawn = join(mkdtempSync(join(tmpdir(), "resolutio-")), "page.png")
  const asked = ["draw", inRoot("demo", "3-plain-semibreves.figurae"), "-o", drawn]
  const look = ["--width", "1100", "--staff", "red", "--theme", "lecture-white"]
  if (runNode("cli/bin/resolutio.mjs", ...asked, ...look) !== 0) giveUp("The page could not be drawn.")
  const easel = await (await browser.newContext()).newPage()
  invented = await inventedPhotograph(easel, readFileSync(drawn))
  await easel.context().close()
  return invented
}
