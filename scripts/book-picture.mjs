// node scripts/book-picture.mjs: the pictures of docs/book.md, from a demo piece to which an editor's marks were added for it.
// docs/score.svg is the score, docs/book.png some pages of the book (pdftoppm of poppler-utils draws them).
import { spawnSync } from "node:child_process"
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs"
import { checkNode, giveUp, inRoot, install, runNode, step } from "./lib/tools.mjs"
import { systemPackages } from "./lib/system.mjs"

checkNode()
install()
const poppler = { program: "/usr/bin/pdftoppm", debian: "poppler-utils", why: "pdftoppm draws the pages" }
const [missing] = systemPackages([poppler])
if (missing) giveUp(missing)
step("Building")
if (runNode("scripts/build.mjs") !== 0) giveUp("The build failed; its message stands above.")

/** Signs of the demo, and the same with an editor's hand on them. */
const MARKS = [
  ["S c e d . M c B b3", 'S c e d:corr(resp=ed reason="so in the cantus, one bar later"):id=e1 . M c B b3'],
  ["c3 S b2 B a S g", "c3 S b2:unclear(cert=medium) B a S g"],
  [". M f+s L g", '. M f+s:supplied(resp=ed reason="cut off by the binder") L g'],
  ["B b3 S d4 b3 M g", "B b3 S d4 b3:id=k1 M g"],
]
const MORE = `
person ed "An invented editor"
person other "Another invented source"
`
const READINGS = {
  altus: "alternative sic for=e1\nS e4\n",
  tenor: "alternative rdg for=k1 by=rdg(source=other)\nM c4 b3\n",
}

let piece = readFileSync(inRoot("demo", "6-proportion-coloration.figurae"), "utf8").replace("\n", MORE)
for (const [sign, marked] of MARKS) piece = piece.replace(sign, marked)
const voices = piece.trimEnd().split(/\n\n(?=voice )/)
const whole = voices.map(voice => `${voice}\n${READINGS[/^voice (\w+)/.exec(voice)?.[1]] ?? ""}`).join("\n")

mkdirSync(inRoot("out", "pages"), { recursive: true })
for (const name of readdirSync(inRoot("out", "pages"))) rmSync(inRoot("out", "pages", name))
const file = inRoot("out", "book-picture.figurae")
writeFileSync(file, `${whole}decision on=k1 duration=2 who=ed why="the voices meet only so"\n`)
const resolutio = (...args) => {
  const { status, stderr } = spawnSync(process.execPath, [inRoot("cli/bin/resolutio.mjs"), ...args], {
    encoding: "utf8",
  })
  if (status !== 0 && status !== 1) giveUp(stderr)
}
resolutio("score", file, "-o", inRoot("docs", "score.svg"), "--force")
resolutio("score", file, "-o", inRoot("out", "book.pdf"), "--force", "--doubt", "0.05")
spawnSync(poppler.program, ["-r", "58", "-png", inRoot("out", "book.pdf"), inRoot("out", "pages", "page")])

/** Side by side on grey, a line round none. */
const pages = readdirSync(inRoot("out", "pages")).sort()
const shown = [2, 3, 4, 8].map(at => readFileSync(inRoot("out", "pages", pages[at])))
const [width, height] = [shown[0].readUInt32BE(16), shown[0].readUInt32BE(20)]
const images = shown.map((png, i) => {
  const [x, y] = [12 + (i % 2) * (width + 12), 12 + (i >> 1) * (height + 12)]
  return `<image x="${x}" y="${y}" width="${width}" height="${height}" href="data:image/png;base64,${png.toString("base64")}"/>`
})
const size = `width="${2 * width + 36}" height="${2 * height + 36}"`
const sheet = `<svg xmlns="http://www.w3.org/2000/svg" ${size}><rect width="100%" height="100%" fill="#c9c2b6"/>${images.join("")}</svg>`
const { Resvg } = await import("@resvg/resvg-js")
writeFileSync(inRoot("docs", "book.png"), new Resvg(sheet).render().asPng())
step(`Written: docs/score.svg, docs/book.png (${readFileSync(inRoot("docs", "book.png")).length >> 10} kB)`)
