import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterEach, beforeEach, describe, expect, test } from "vitest"
import { readText, writeWhole } from "./files.js"

let folder = ""
beforeEach(() => void (folder = mkdtempSync(join(tmpdir(), "resolutio-"))))
afterEach(() => rmSync(folder, { recursive: true, force: true }))
const at = (name: string) => join(folder, name)
const code = (outcome: { ok: boolean; problems: readonly { code: string }[] }) => [
  outcome.ok,
  outcome.problems[0]?.code,
]

describe("reading", () => {
  test.each([
    ["UTF-8", Buffer.from("B \u266d", "utf8")],
    ["UTF-8 with a byte order mark", Buffer.from("\ufeffB \u266d", "utf8")],
    ["UTF-16 with a byte order mark", Buffer.from("\ufeffB \u266d", "utf16le")],
  ])("%s is text", (_, bytes) => {
    writeFileSync(at("a"), bytes)
    expect(readText(at("a"))).toMatchObject({ ok: true, value: "B \u266d" })
  })
  test("the encoding of an XML declaration is followed", () => {
    writeFileSync(at("a"), Buffer.from('<?xml version="1.0" encoding="ISO-8859-1"?><a>\u00e9</a>', "latin1"))
    expect(readText(at("a"))).toMatchObject({ ok: true, value: expect.stringContaining("\u00e9") })
  })
  test.each([
    ["bytes that are no UTF-8", Buffer.from([0x42, 0xff, 0xc0])],
    ["a file with zero bytes in it", Buffer.from("B\0B")],
    ["an encoding that nobody knows", Buffer.from('<?xml version="1.0" encoding="no-such-code"?><a/>')],
  ])("%s: a problem, not a crash", (_, bytes) => {
    writeFileSync(at("a"), bytes)
    expect(code(readText(at("a")))).toEqual([false, "not-text"])
  })
  test("a missing file and a folder are named", () => {
    expect(readText(at("none"))).toMatchObject({
      ok: false,
      problems: [{ code: "file-unreadable", where: { file: at("none") } }],
    })
    expect(code(readText(folder))).toEqual([false, "file-unreadable"])
  })
  test("a file over the limit is not read", () => {
    writeFileSync(at("a"), "B".repeat(1000))
    expect(code(readText(at("a"), 999))).toEqual([false, "file-too-large"])
    expect(code(readText(at("a"), 1000))).toEqual([true, undefined])
  })
  test.skipIf(process.platform === "win32")("an endless device stops at the limit", () => {
    expect(code(readText("/dev/zero", 100_000))).toEqual([false, "file-too-large"])
  })
})

describe("writing", () => {
  test("a new file holds exactly what was given, and nothing else stays behind", () => {
    expect(writeWhole(at("a"), "B S")).toBeUndefined()
    expect(readFileSync(at("a"), "utf8")).toBe("B S")
    expect(readdirSync(folder)).toEqual(["a"])
  })
  test("a file that is there is left alone unless asked", () => {
    writeFileSync(at("a"), "old")
    expect(writeWhole(at("a"), "new")).toMatchObject({ code: "file-exists", where: { file: at("a") } })
    expect(readFileSync(at("a"), "utf8")).toBe("old")
    expect(writeWhole(at("a"), new Uint8Array([66]), true)).toBeUndefined()
    expect(readFileSync(at("a"), "utf8")).toBe("B")
    expect(readdirSync(folder)).toEqual(["a"])
  })
  test("a folder is never written over, and a missing folder is said", () => {
    mkdirSync(at("d"))
    expect(writeWhole(at("d"), "B", true)).toMatchObject({ code: "cannot-write" })
    expect(writeWhole(at("none/a"), "B")).toMatchObject({
      code: "cannot-write",
      what: expect.stringContaining("no file or folder"),
    })
    expect(readdirSync(folder)).toEqual(["d"])
  })
})
