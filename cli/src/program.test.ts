import { existsSync, readdirSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { run } from "./program.js"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Of our own making

voice cantus white
O S c4 B d4 S e4 . f4 g4 B a4 L g4

voice tenor white
O B c3 g3 L c3
`
const folder = folderWith({ "piece.figurae": PIECE })
const { at, save } = folder
const json = async (...args: string[]) => JSON.parse((await resolutio(["read", ...args, "--format", "json"])).out)

describe("read", () => {
  test("prints a table: number, sign, pitch, minims, modern value, quality, reason", async () => {
    const { out } = await resolutio(["read", at("piece.figurae"), "--practice", "white"])
    expect(out).toContain("Of our own making")
    expect(out).toMatch(/cantus: \d+ minims/)
    expect(out).toMatch(/^\s*2 +B +d4 +4 +whole +imperfecta +\S/m)
    expect(out).toMatch(/^\s*3 +S\. +e4/m)
  })
  test("one file gives one JSON object, by the contract", async () => {
    const object = await json(at("piece.figurae"))
    expect(object).toMatchObject({ format: "resolutio-reading", version: 1, title: "Of our own making" })
    expect(object.voices.map((voice: { label: string }) => voice.label)).toEqual(["cantus", "tenor"])
    expect(object).not.toHaveProperty("file")
  })
  test("several files give one object a line, one that cannot be read its own", async () => {
    const { out, status } = await resolutio([
      "read",
      at("piece.figurae"),
      at("none.mei"),
      at("piece.figurae"),
      "--format",
      "json",
    ])
    const lines = out.split("\n").map(line => JSON.parse(line))
    expect(status).toBe(2)
    expect(lines.map(line => line.file)).toEqual([at("piece.figurae"), at("none.mei"), at("piece.figurae")])
    expect(lines[1].problems[0].what).toContain("no file")
    expect(lines[1]).not.toHaveProperty("voices")
    expect(lines[2]).toMatchObject({ title: "Of our own making" })
  })
  test("a voice can be chosen by label in any case or by number", async () => {
    for (const name of ["TENOR", "2"]) {
      const object = await json(at("piece.figurae"), "--voice", name)
      expect(object.voices.map((voice: { label: string }) => voice.label)).toEqual(["tenor"])
    }
    const { status, err } = await resolutio(["read", at("piece.figurae"), "--voice", "bassus"])
    expect(status).toBe(2)
    expect(err).toContain("cantus (1) or tenor (2)")
  })
  test("--practice gives practice and options to a file that does not say", async () => {
    const { voices } = await json(at("piece.figurae"), "--practice", "white:minorColor=triplet,reversedC=4/3")
    expect(voices[0].practice).toMatchObject({
      name: "white",
      from: "option",
      options: { minorColor: "triplet", reversedC: "4/3" },
    })
  })
  test.each([
    ["salsa", /no practice “salsa”.*\n.*ars-antiqua, ars-nova or white/],
    ["white:minorColor", /“minorColor” is no option/],
    ["white:colour=red", /colour/],
    ["white:minorColor=loud", /loud/],
  ])("--practice %s is refused with what there is", async (practice, message) => {
    const { status, err } = await resolutio(["read", at("piece.figurae"), "--practice", practice])
    expect(status).toBe(2)
    expect(err).toMatch(message)
  })
  test("an option that the signs settled is not said to be stated", async () => {
    const early = "black practice=ars-nova\nmens:modus=2:tempus=2\nL c4 S d e f . d e B f S d/down e f g L c\n"
    save("inferred.figurae", `voice triplum ${early}`)
    save("stated.figurae", `voice triplum ${early.replace("nova", "nova(minims=unwritten)")}`)
    const line = async (name: string) => /^Practice .*$/m.exec((await resolutio(["read", at(name)])).out)?.[0]
    expect(await line("inferred.figurae")).toBe("Practice ars-nova (stated in the file): minims=unwritten (inferred)")
    expect(await line("stated.figurae")).toBe("Practice ars-nova (stated in the file): minims=unwritten")
    const settled = async (name: string) =>
      JSON.parse((await resolutio(["read", at(name), "--format", "json"])).out).voices[0].practice.settled
    expect(await settled("inferred.figurae")).toEqual(["minims"])
    expect(await settled("stated.figurae")).toBeUndefined()
  })

  test("a long voice is cut to what matters unless all is asked for", async () => {
    const file = save("long.figurae", `voice cantus white\nO ${"B c4 ".repeat(200)}\n`)
    const short = (await resolutio(["read", file])).out.split("\n")
    const whole = (await resolutio(["read", file, "--all"])).out.split("\n")
    expect(short.length).toBeLessThan(60)
    expect(short.join("\n")).toMatch(/⋮ .*\d+ more without doubt/)
    expect(whole.filter(line => /^ *\d+ +B /.test(line))).toHaveLength(200)
  })
  test.each([30, 50, 80])("no line is wider than a terminal of %i", async width => {
    const { out } = await resolutio(["read", at("piece.figurae"), "--practice", "white"], width)
    expect(Math.max(...out.split("\n").map(line => line.length))).toBeLessThanOrEqual(width)
  })
  test("what a file says cannot steer the terminal", async () => {
    const file = save("bad.figurae", `title: \u001b[2Jgone\nvoice "a\u001b]0;x\u0007" black\nB c4 c4\n`)
    const { out, err } = await resolutio(["read", file])
    // oxlint-disable-next-line no-control-regex -- these are what must not come through
    expect(out + err).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/)
  })
})

describe("explain", () => {
  test("tells the story of a sign named by voice and number, or by id", async () => {
    const { out, status } = await resolutio(["explain", at("piece.figurae"), "Cantus 2", "--practice", "white"])
    expect(status).toBeLessThan(2)
    expect(out.split("\n").length).toBeGreaterThan(2)
    const { voices } = await json(at("piece.figurae"))
    const { id } = voices[0].signs.find((sign: { place: string }) => sign.place === "cantus 2")
    expect((await resolutio(["explain", at("piece.figurae"), id, "--practice", "white"])).out).toBe(out)
  })
  test("a place that is not there is answered with those that are", async () => {
    const { status, err } = await resolutio(["explain", at("piece.figurae"), "cantus 99"])
    expect(status).toBe(2)
    expect(err).toMatch(/no sign “cantus 99”[\s\S]*cantus 1 to 7; tenor 1 to 3/)
  })
})

describe("convert", () => {
  test("goes from shorthand to MEI and back without loss", async () => {
    expect((await resolutio(["convert", at("piece.figurae"), "-o", at("piece.mei")])).status).toBe(0)
    expect((await resolutio(["convert", at("piece.mei"), "-o", at("again.figurae")])).status).toBe(0)
    expect((await resolutio(["convert", at("again.figurae"), "-o", at("again.mei")])).status).toBe(0)
    expect(readFileSync(at("again.mei"), "utf8")).toBe(readFileSync(at("piece.mei"), "utf8"))
  })
  test("writes over nothing unless asked, and leaves nothing half done", async () => {
    save("there.mei", "mine")
    const refused = await resolutio(["convert", at("piece.figurae"), "-o", at("there.mei")])
    expect(refused).toMatchObject({ status: 2, err: expect.stringContaining("--force") })
    expect(readFileSync(at("there.mei"), "utf8")).toBe("mine")
    expect((await resolutio(["convert", at("piece.figurae"), "-o", at("there.mei"), "--force"])).status).toBe(0)
    expect(readFileSync(at("there.mei"), "utf8")).toContain("<mei")
    expect(readdirSync(folder.path).sort()).toEqual(["piece.figurae", "there.mei"])
  })
  test("refuses an ending it does not know before it reads anything", async () => {
    const { status, err } = await resolutio(["convert", at("none"), "-o", at("x.doc")])
    expect(status).toBe(2)
    expect(err).toContain(".mei or .figurae")
  })
})

describe("score", () => {
  test("writes modern MEI, MIDI and a picture", async () => {
    for (const [name, start] of [
      ["a.mei", "<?xml"],
      ["a.mid", "MThd"],
      ["a.svg", "<"],
    ] as const) {
      const { status, err } = await resolutio(["score", at("piece.figurae"), "-o", at(name), "--practice", "white"])
      expect(status, err).toBeLessThan(2)
      expect(readFileSync(at(name), "latin1").startsWith(start)).toBe(true)
    }
    expect(readFileSync(at("a.svg"), "utf8")).toContain("<svg")
  })
  test("a reduction that is none is refused and nothing is written", async () => {
    const { status, err } = await resolutio(["score", at("piece.figurae"), "-o", at("a.mei"), "--reduction", "3"])
    expect(status).toBe(2)
    expect(err).toContain("1, 2, 4, 8, 16 or 32")
    expect(existsSync(at("a.mei"))).toBe(false)
  })
})

describe("what cannot be done: status 2, never a stack trace", () => {
  test("a wrong command or option says where help is", async () => {
    for (const args of [["sing"], ["read"], ["read", "--loud", "x"], ["convert", "x"]]) {
      const { status, err } = await resolutio(args)
      expect(status).toBe(2)
      expect(err).toContain("--help")
    }
  })
  test("a fault of ours is told plainly", async () => {
    const shell = { out: () => fail(), err: (text: string) => void told.push(text), colour: false }
    const told: string[] = []
    const fail = () => {
      throw new Error("a fault")
    }
    expect(await run(["read", at("piece.figurae")], shell)).toBe(2)
    expect(told.join()).toContain("Please report")
    expect(told.join()).not.toMatch(/\n\s+at /)
  })
})

test("help and version answer with status 0", async () => {
  expect(await resolutio(["--version"])).toMatchObject({ status: 0, out: expect.stringMatching(/^\d+\.\d+\.\d+$/) })
  for (const args of [["--help"], ["read", "--help"], ["help", "score"]]) {
    expect(await resolutio(args)).toMatchObject({ status: 0, out: expect.stringContaining("Usage: resolutio") })
  }
})
