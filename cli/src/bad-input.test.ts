/**
 * Whatever a file holds, and whatever the disk refuses: a status, a sentence that names the file, what is wrong and how to
 * mend it; never a stack trace, a hang or half a file. The more usual cases stand in program.test.ts.
 */
import { spawnSync } from "node:child_process"
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { afterEach, beforeEach, describe, expect, test } from "vitest"
import { run } from "./program.js"

let folder = ""
beforeEach(() => void (folder = mkdtempSync(join(tmpdir(), "resolutio-bad-"))))
afterEach(() => {
  chmodSync(folder, 0o755)
  rmSync(folder, { recursive: true, force: true })
})
const at = (name: string) => join(folder, name)
const save = (name: string, text: string | Uint8Array) => {
  writeFileSync(at(name), text)
  return at(name)
}

async function resolutio(...args: string[]) {
  const out: string[] = []
  const err: string[] = []
  const shell = {
    out: (text: string) => void out.push(text),
    err: (text: string) => void err.push(text),
    colour: false,
  }
  const status = await run(args, shell)
  return { status, out: out.join("\n"), err: err.join("\n") }
}

/** Every command on this file; a file that is written must be whole, one that is refused must not be there. */
async function everyCommand(file: string) {
  const outputs = [at("out.mei"), at("out.figurae"), at("score.mei"), at("score.mid")]
  const commands = [
    ["read", file],
    ["read", file, "--format", "json"],
    ["explain", file, "1 1"],
    ...outputs.map(output => [output.includes("score") ? "score" : "convert", file, "-o", output]),
  ]
  const answers = []
  for (const args of commands) answers.push({ args, ...(await resolutio(...args)) })
  const left = readdirSync(folder)
  expect(left.filter(name => name.includes(".tmp"))).toEqual([])
  for (const output of outputs) rmSync(output, { force: true })
  return { answers, left }
}

const NO_SENTENCE = /^\s+at |undefined|\[object|NaN|Resolutio itself has failed|root:/m

/** As messages are shown: a place with the file's name in front, and a line that says how to mend it. */
function expectSentences(text: string, file: string) {
  expect(text).toContain(file)
  expect(text).toMatch(/\n {4}To mend it: \S.*$/m)
  expect(text).not.toMatch(NO_SENTENCE)
}

const HEAD = `<?xml version="1.0" encoding="UTF-8"?>\n<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">`
const mei = (notes: string, definition = "", head = HEAD) => `${head}
<meiHead><fileDesc><titleStmt><title>Of our own making</title></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv><score>
<scoreDef><staffGrp><staffDef n="1" lines="5" notationtype="mensural.white"${definition}/></staffGrp></scoreDef>
<section><staff n="1"><layer n="1">
${notes}
</layer></staff></section>
</score></mdiv></body></music></mei>
`
const NOTES = `<note xml:id="a" dur="brevis" pname="c" oct="4"/>\n<note xml:id="b" dur="brevis" pname="d" oct="4"/>`
const bomb = [..."bcdefghijk"].map((name, i) => `<!ENTITY ${name} "${`&${"abcdefghij"[i]};`.repeat(10)}">`).join("")

describe("a file that cannot be read: status 2 from every command, and nothing is written", () => {
  test.each<[title: string, name: string, text: string | Uint8Array, told: RegExp]>([
    ["empty", "a.mei", "", /line 1.*empty/],
    ["empty shorthand", "a.figurae", "", /a\.figurae/],
    [
      "cut in a tag",
      "a.mei",
      mei(NOTES).slice(0, mei(NOTES).indexOf('pname="d"')),
      /line 8, .*cut off|line 8, .*ends inside/,
    ],
    ["cut between tags", "a.mei", mei(NOTES).slice(0, mei(NOTES).indexOf("</layer>")), /line \d+, .*not well-formed/],
    ["cut in its first line", "a.mei", HEAD.slice(0, 20), /line 1/],
    ["tags that cross", "a.mei", mei("<ligature><note/></layer></ligature>"), /line 7, .*not well-formed/],
    ["an attribute twice", "a.mei", mei('<note dur="longa" dur="brevis"/>'), /line 7, .*not well-formed/],
    ["a bare &", "a.mei", mei('<note label="a & b"/>'), /line 7, .*&/],
    [
      "an entity bomb",
      "a.mei",
      `<!DOCTYPE mei [<!ENTITY a "aaaaaaaaaa">${bomb}]>\n${mei("&k;").slice(39)}`,
      /entities/,
    ],
    [
      "an external entity",
      "a.mei",
      `<!DOCTYPE mei [<!ENTITY x SYSTEM "file:///etc/passwd">]>\n${mei("&x;").slice(39)}`,
      /entities/,
    ],
    [
      "a parameter entity",
      "a.mei",
      `<!DOCTYPE mei [<!ENTITY % x SYSTEM "http://example.invalid/x"> %x;]>\n${mei("").slice(39)}`,
      /entities/,
    ],
    ["a version to come", "a.mei", mei(NOTES, "", HEAD.replace("5.1", "7.0")), /line 2, .*7\.0.*5\.1/],
    ["a version too old", "a.mei", mei(NOTES, "", HEAD.replace("5.1", "2013")), /line 2, .*2013.*4\.0/],
    ["another kind of XML", "a.mei", "<score-partwise><part/></score-partwise>", /line 1, .*score-partwise/],
    ["a web page", "a.xml", "<!DOCTYPE html>\n<html><body onload='x()'/></html>", /line 2, .*html/],
    [
      "modern notes only",
      "a.mei",
      mei('<note dur="4"/>').replace(' notationtype="mensural.white"', ""),
      /line 2, .*mensural/,
    ],
    ["no voice", "a.mei", `${HEAD}<music><body/></music></mei>`, /line 2, .*no voice/],
    [
      "a picture",
      "a.mei",
      Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0xff]),
      /not text/,
    ],
    ["depth without end", "a.mei", `${HEAD}${"<section>".repeat(60_000)}`, /too deep/],
  ])("%s", async (_, name, text, told) => {
    const { answers, left } = await everyCommand(save(name, text))
    for (const { args, status, out, err } of answers) {
      expect(status, args.join(" ")).toBe(2)
      expectSentences(err, name)
      expect(err).toMatch(told)
      if (args.includes("json"))
        expect(JSON.parse(out)).toMatchObject({
          file: at(name),
          problems: expect.arrayContaining([expect.objectContaining({ severity: "error" })]) as object,
        })
      else expect(out).toBe("")
    }
    expect(left).toEqual([name])
  })
})

describe("shorthand that is none: status 2, or 1 where something in it can be read; line, column and how to mend it", () => {
  test.each<[title: string, text: string]>([
    ["prose", "Dear reader,\nthis is a letter and no piece at all.\n"],
    ["keys at random", "%$§ }{ ]][ ((( <<< >>> ;;; 🎵🎵\n\\\\ ~~~ ^^^\n"],
    ["brackets without end", `voice cantus white\n${"[".repeat(20_000)}\n`],
    ["closed and never opened", `voice cantus white\n${"]".repeat(20_000)}\n`],
    ["a command for another program", "<script>alert(1)</script".slice(1)],
    ["one word of a megabyte", "B".repeat(1_000_000)],
  ])("%s", async (_, text) => {
    const { answers, left } = await everyCommand(save("a.figurae", text))
    for (const { args, status, out, err } of answers) {
      expect([1, 2], args.join(" ")).toContain(status)
      if (args.includes("json"))
        expect(JSON.parse(out).problems[0]).toMatchObject({ mend: expect.any(String) as string })
      else expectSentences(args[0] === "read" ? out + err : err, "a.figurae")
      expect(out + err).toMatch(/line \d+, column \d+|"line": \d+/)
      expect((out + err).length).toBeLessThan(500_000)
    }
    if (answers[0]!.status === 2) expect(left).toEqual(["a.figurae"])
  })
})

describe("a file that is read in spite of what is odd in it: status 1, and each oddity is told with its line", () => {
  test.each<[title: string, text: string, told: RegExp]>([
    ["a ratio with nothing below", mei('<note dur="brevis" pname="c" oct="4" num="3" numbase="0"/>'), /line 7, .*num/],
    ["a ratio in words", mei('<note dur="brevis" pname="c" oct="4" num="three" numbase="two"/>'), /line 7, .*num/],
    ["tempus of seven", mei(NOTES, ' tempus="7"'), /line 5, .*tempus/],
    ["a note without a level", mei(`${NOTES}\n<note pname="c" oct="4"/>`), /line 9, .*level/],
    ["a level of another notation", mei(`${NOTES}\n<note dur="16" pname="c" oct="4"/>`), /line 9, /],
    ["the same id twice", mei('<note xml:id="a" dur="brevis"/>\n<note xml:id="a" dur="longa"/>'), /line 8, .*“?a”?/],
    [
      "a mark that points to itself",
      mei(NOTES).replace("</layer>", '</layer><dir xml:id="d" startid="#d">x</dir>'),
      /line 9, /,
    ],
    ["a symbol that is nowhere", mei('<note dur="brevis" altsym="#gone"/>'), /line 7, .*gone/],
  ])("%s", async (_, text, told) => {
    const file = save("a.mei", text)
    for (const args of [
      ["read", file],
      ["score", file, "-o", at("s.mei")],
      ["convert", file, "-o", at("c.figurae")],
    ]) {
      const { status, out, err } = await resolutio(...args)
      expect(status, `${args[0]}: ${err}`).toBe(1)
      const said = args[0] === "read" ? out : err
      expect(said).toMatch(told)
      expectSentences(said, "a.mei")
    }
    const { out } = await resolutio("read", file, "--format", "json")
    expect(JSON.parse(out).problems[0].where).toMatchObject({ line: expect.any(Number) as number })
  })
  test("what contradicts itself is read one way and does no harm", async () => {
    const loop =
      '<note xml:id="a" copyof="#b" sameas="#b" dur="brevis" dur.quality="perfecta" num="2" numbase="3" colored="true" head.fill="void"/>'
    const file = save(
      "a.mei",
      mei(
        `${loop}\n${loop.replaceAll("#b", "#a").replace('"a"', '"b"')}`,
        ' mensur.sign="C" tempus="3" num.default="x"',
      ),
    )
    const { answers } = await everyCommand(file)
    for (const { args, status, out, err } of answers) {
      expect(status, `${args.join(" ")}: ${err}`).toBeLessThan(2)
      expect(out + err).not.toMatch(NO_SENTENCE)
    }
  })
})

describe("very much of nothing", () => {
  test.each([
    ["30 MB of spaces", "a.mei", () => Buffer.alloc(30_000_000, " ")],
    ["30 MB of spaces as shorthand", "a.figurae", () => Buffer.alloc(30_000_000, " ")],
    ["30 MB of empty lines as shorthand", "a.figurae", () => Buffer.alloc(30_000_000, "\n")],
    ["30 MB of notes as shorthand", "a.figurae", () => Buffer.alloc(30_000_000, "B c4 ")],
    ["30 MB of spaces in an element", "a.mei", () => Buffer.concat([Buffer.from(HEAD), Buffer.alloc(30_000_000, " ")])],
    ["30 MB of one tag", "a.mei", () => Buffer.alloc(30_000_000, "<a ")],
    ["70 MB", "a.mei", () => Buffer.alloc(70_000_000, "<!-- -->")],
  ])(
    "%s is refused within seconds",
    async (_, name, content) => {
      const file = save(name, content())
      const start = performance.now()
      const { status, err } = await resolutio("read", file)
      expect(performance.now() - start).toBeLessThan(8000)
      expect(status).toBe(2)
      expectSentences(err, name)
      expect(err.length).toBeLessThan(2000)
    },
    30_000,
  )
})
test("a sign that is not among a great many is answered with the numbers that are", async () => {
  const file = save("long.figurae", `voice cantus white\nB ${"c4 ".repeat(140_000)}\n\nvoice tenor white\n`)
  const { status, err } = await resolutio("explain", file, "cantus 999999")
  expect(status).toBe(2)
  expectSentences(err, file)
  expect(err).toContain("cantus 1 to 140000; tenor has none")
}, 30_000)

describe("files that are not there, and files that may not be written", () => {
  const piece = () => save("piece.figurae", "voice cantus white\nO B c4 S d4 B e4 c4\n")
  test.each([
    ["missing", () => at("none.mei"), /no file or folder of this name/],
    ["in a missing folder", () => at("none/a.mei"), /no file or folder of this name/],
    ["a folder", () => folder, /it is a folder/],
    ["below a file", () => join(piece(), "a.mei"), /part of its path is no folder/],
    ["a name too long", () => at(`${"a".repeat(400)}.mei`), /name is too long/],
  ])("%s", async (_, name, told) => {
    const file = name()
    const before = readdirSync(folder)
    const { answers, left } = await everyCommand(file)
    for (const { status, err } of answers) {
      expect(status).toBe(2)
      expectSentences(err, file)
      expect(err).toMatch(told)
    }
    expect(left).toEqual(before)
  })
  test.each(["convert", "score"])("%s leaves a file that is there as it is", async command => {
    const file = piece()
    save("there.mei", "mine")
    const { status, err } = await resolutio(command, file, "-o", at("there.mei"))
    expect(status).toBe(2)
    expectSentences(err, at("there.mei"))
    expect(err).toContain("--force")
    expect(readFileSync(at("there.mei"), "utf8")).toBe("mine")
  })
  test.each<[title: string, output: () => string]>([
    ["into a missing folder", () => at("none/o.mei")],
    ["over a folder", () => (mkdirSync(at("d.mei")), at("d.mei"))],
    ["below a file", () => join(save("f", "mine"), "o.mei")],
    ["under a name too long", () => at(`${"a".repeat(400)}.mei`)],
  ])("writing %s", async (_, output) => {
    const file = piece()
    const name = output()
    const before = readdirSync(folder)
    for (const args of [
      ["convert", file],
      ["score", file],
      ["convert", file, "--force"],
      ["score", file, "--force"],
    ]) {
      const { status, err } = await resolutio(...args, "-o", name)
      expect(status).toBe(2)
      expectSentences(err, name)
      expect(readdirSync(folder)).toEqual(before)
    }
  })
  test("a name that would steer the terminal is shown without its power", async () => {
    const { err, status } = await resolutio("read", at("a\u001b[2J\u0007\nb.mei"))
    expect(status).toBe(2)
    // oxlint-disable-next-line no-control-regex -- these are what must not come through
    expect(err).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/)
    expectSentences(err, "b.mei")
  })
})

const program = fileURLToPath(new URL("../bin/resolutio.mjs", import.meta.url))
const isBuilt = existsSync(fileURLToPath(new URL("../dist/main.mjs", import.meta.url)))
if (!isBuilt) console.warn("SKIPPED: the built program is not there (npm run build); tests of its process did not run.")

describe.skipIf(!isBuilt)("the program as a process", () => {
  /** An account without rights, where this one has them all. */
  const isRoot = process.getuid?.() === 0
  const nobody = isRoot ? { uid: 65_534, gid: 65_534 } : {}
  const started = (args: readonly string[], account = {}) =>
    spawnSync(process.execPath, [program, ...args], { encoding: "utf8", cwd: folder, timeout: 30_000, ...account })

  test("ends with status 2 and a sentence on nothing, nonsense, and a missing file", () => {
    for (const file of [save("a.mei", ""), save("b.mei", "<mei"), save("c.figurae", " \n"), at("none")]) {
      const { status, stdout, stderr } = started(["read", file])
      expect(status).toBe(2)
      expect(stdout).toBe("")
      expectSentences(stderr, file)
    }
  })
  test.skipIf(process.platform === "win32" || !canDrop())(
    "a file that may not be read is told, and so is a folder that may not be written",
    () => {
      chmodSync(folder, 0o755)
      const closed = save("closed.mei", mei(NOTES))
      chmodSync(closed, 0o000)
      const open = save("open.mei", mei(NOTES))
      const refused = started(["read", closed], nobody)
      expect(refused.status).toBe(2)
      expectSentences(refused.stderr, closed)
      expect(refused.stderr).toContain("this account may not do that")
      chmodSync(folder, 0o555)
      for (const command of ["convert", "score"]) {
        const { status, stderr } = started([command, open, "-o", at("o.mei")], nobody)
        expect(status).toBe(2)
        expectSentences(stderr, at("o.mei"))
        expect(stderr).toContain("this account may not do that")
      }
      expect(readdirSync(folder).sort()).toEqual(["closed.mei", "open.mei"])
    },
  )
  /** Whether the program can be run at all by the account without rights. */
  function canDrop(): boolean {
    if (!isRoot) return true
    const outcome = spawnSync(process.execPath, [program, "--version"], { uid: 65_534, gid: 65_534, cwd: "/" })
    if (outcome.status === 0) return true
    console.warn("SKIPPED: an account without rights cannot run the program here; nothing is said of rights.")
    return false
  }
})
