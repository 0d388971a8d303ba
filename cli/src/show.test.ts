/** `resolutio show`: one HTML file. */
import { existsSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Two of them
voice cantus practice=ars-nova
clef:C1 O B c4 S d4 B e4 c4
voice tenor practice=ars-nova
clef:C3 O B c4 B c4 B g3
`
const { at } = folderWith({ "piece.figurae": PIECE })

describe("show", () => {
  test("a file that has all in it; without the sound a small one", async () => {
    const made = await resolutio(["show", at("piece.figurae"), "-o", at("piece.html"), "--sound", "tone"])
    expect(made.err).toMatch(/Written: .*piece\.html[\s\S]*editor's estimate/)
    const html = readFileSync(at("piece.html"), "utf8")
    expect(html).toMatch(/<h1>Two of them<\/h1>[\s\S]*id="sound">/)
    expect(html.match(/class="music"/g)).toHaveLength(2)
    const args = ["show", at("piece.figurae"), "-o", at("small.html"), "--silent", "--view", "page"]
    expect((await resolutio(args)).status).toBe(0)
    const small = readFileSync(at("small.html"), "utf8")
    expect(small).not.toContain('id="sound"')
    expect(small.match(/class="music"/g)).toHaveLength(1)
  })

  test.each([
    [["-o", "piece.htm"], "Let the name end in .html"],
    [["-o", "other.html", "--solo", "bassus"], "There is no voice “bassus”."],
    [["-o", "other.html", "--mute", "cantus", "--mute", "tenor"], "There is nothing to hear"],
  ])("%j is refused with a sentence, and nothing is written", async ([, name = "", ...flags], sentence) => {
    const { status, err } = await resolutio(["show", at("piece.figurae"), "-o", at(name), ...flags])
    expect(status).toBe(2)
    expect(err).toContain(sentence)
    expect(existsSync(at(name))).toBe(false)
  })
})
