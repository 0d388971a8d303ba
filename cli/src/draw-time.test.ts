/** `resolutio draw --view time`: what is written, and what is said of a question that cannot be answered. */
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Prima (invented)
voice cantus black practice=ars-nova
clef:C1 O
B c5 S d B e S c d e L c
voice tenor black practice=ars-nova
clef:C4 O
B c4 c c L c
`
const EMPTY = "voice cantus white practice=white\nvoice tenor white practice=white\n"
const folder = folderWith({ "piece.figurae": PIECE, "empty.figurae": EMPTY })
const { at } = folder
const draw = (...args: string[]) => resolutio(["draw", at("piece.figurae"), "--view", "time", "--force", ...args])

test("SVG: bands with their exact times, and the reason for the sign that is asked about", async () => {
  const { status, err } = await draw("-o", at("a.svg"), "--select", "cantus 1")
  expect([status, err]).toEqual([0, `Written: ${at("a.svg")}`])
  const svg = folder.text("a.svg")
  expect(svg).toContain('data-onset="4" data-duration="2"')
  expect(svg).toContain("A breve of four minims, not six.")
})
test("PNG: as large as asked", async () => {
  await draw("-o", at("a.png"), "--width", "1280", "--height", "720")
  const png = readFileSync(at("a.png"))
  expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1280, 720])
})
test("PDF", async () => {
  await draw("-o", at("a.pdf"), "--compact")
  expect(readFileSync(at("a.pdf")).subarray(0, 5).toString("latin1")).toBe("%PDF-")
})
test("a part of the axis", async () => {
  await draw("-o", at("part.svg"), "--from", "6", "--to", "25/2")
  const onsets = [...folder.text("part.svg").matchAll(/data-onset="(\d+)"/g)].map(found => Number(found[1]))
  expect([Math.min(...onsets), Math.max(...onsets)]).toEqual([6, 12])
})
test("a page without a note has no time, whatever was asked", async () => {
  const { status, err } = await resolutio(["draw", at("empty.figurae"), "--view", "time", "-o", at("a.svg")])
  expect(status).toBe(2)
  expect(err).toContain("Nothing of it lasts yet, so there is no time to draw.")
  expect(err).not.toContain("--from")
})
test.each([
  [["--from", "soon"], "“soon” is no moment."],
  [["--from", "90"], "Nothing sounds between 90 and"],
  [["--from", "6", "--to", "6"], "Nothing sounds between 6 and 6."],
  [["--select", "cantus 99"], "There is no sign “cantus 99”"],
  [["--height", "2"], "“2” cannot be drawn"],
])("%j: %s", async (args, what) => {
  const { status, err } = await draw("-o", at("never.svg"), ...args)
  expect(status).toBe(2)
  expect(err).toContain(what)
})
