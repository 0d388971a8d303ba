/**
 * Whatever the disk refuses, and files larger than any music: a status, a sentence that names the file, what is wrong and
 * how to mend it; never a stack trace, a hang or half a file.
 */
import { spawnSync } from "node:child_process"
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { afterEach, describe, expect, test } from "vitest"
import { everyCommand, expectSentences, HEAD, mei, NOTES } from "./testing/bad-input.js"
import { folderWith, resolutio } from "./testing/program.js"

const folder = folderWith()
const { at, save } = folder
// Hooks after a test run last one first: the folder can be removed again.
afterEach(() => chmodSync(folder.path, 0o755))

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
      // the processor's time: whatever else the machine does meanwhile is not counted
      const start = process.cpuUsage()
      const { status, err } = await resolutio(["read", file])
      expect(process.cpuUsage(start).user / 1000).toBeLessThan(8000)
      expect(status).toBe(2)
      expectSentences(err, name)
      expect(err.length).toBeLessThan(2000)
    },
    90_000,
  )
})
test("a sign that is not among a great many is answered with the numbers that are", async () => {
  const file = save("long.figurae", `voice cantus white\nB ${"c4 ".repeat(140_000)}\n\nvoice tenor white\n`)
  const { status, err } = await resolutio(["explain", file, "cantus 999999"])
  expect(status).toBe(2)
  expectSentences(err, file)
  expect(err).toContain("cantus 1 to 140000; tenor has none")
}, 90_000)

describe("files that are not there, and files that may not be written", () => {
  const piece = () => save("piece.figurae", "voice cantus white\nO B c4 S d4 B e4 c4\n")
  test.each([
    ["missing", () => at("none.mei"), /no file or folder of this name/],
    ["in a missing folder", () => at("none/a.mei"), /no file or folder of this name/],
    ["a folder", () => folder.path, /it is a folder/],
    ["below a file", () => join(piece(), "a.mei"), /part of its path is no folder/],
    ["a name too long", () => at(`${"a".repeat(400)}.mei`), /name is too long/],
  ])("%s", async (_, name, told) => {
    const file = name()
    const before = readdirSync(folder.path)
    const { answers, left } = await everyCommand(file, folder)
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
    const { status, err } = await resolutio([command, file, "-o", at("there.mei")])
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
    const before = readdirSync(folder.path)
    for (const args of [
      ["convert", file],
      ["score", file],
      ["convert", file, "--force"],
      ["score", file, "--force"],
    ]) {
      const { status, err } = await resolutio([...args, "-o", name])
      expect(status).toBe(2)
      expectSentences(err, name)
      expect(readdirSync(folder.path)).toEqual(before)
    }
  })
  test("a name that would steer the terminal is shown without its power", async () => {
    const { err, status } = await resolutio(["read", at("a\u001b[2J\u0007\nb.mei")])
    expect(status).toBe(2)
    // oxlint-disable-next-line no-control-regex -- these are what must not come through
    expect(err).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/)
    expectSentences(err, "b.mei")
  })
})

const program = fileURLToPath(new URL("../bin/resolutio.mjs", import.meta.url))
const isBuilt = existsSync(fileURLToPath(new URL("../dist/main.cjs", import.meta.url)))
if (!isBuilt) console.warn("SKIPPED: the built program is not there (npm run build); tests of its process did not run.")

describe.skipIf(!isBuilt)("the program as a process", () => {
  /** An account without rights, where this one has them all. */
  const isRoot = process.getuid?.() === 0
  const nobody = isRoot ? { uid: 65_534, gid: 65_534 } : {}
  const started = (args: readonly string[], account = {}) =>
    spawnSync(process.execPath, [program, ...args], { encoding: "utf8", cwd: folder.path, timeout: 30_000, ...account })

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
      chmodSync(folder.path, 0o755)
      const closed = save("closed.mei", mei(NOTES))
      chmodSync(closed, 0o000)
      const open = save("open.mei", mei(NOTES))
      const refused = started(["read", closed], nobody)
      expect(refused.status).toBe(2)
      expectSentences(refused.stderr, closed)
      expect(refused.stderr).toContain("this account may not do that")
      chmodSync(folder.path, 0o555)
      for (const command of ["convert", "score"]) {
        const { status, stderr } = started([command, open, "-o", at("o.mei")], nobody)
        expect(status).toBe(2)
        expectSentences(stderr, at("o.mei"))
        expect(stderr).toContain("this account may not do that")
      }
      expect(readdirSync(folder.path).sort()).toEqual(["closed.mei", "open.mei"])
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
