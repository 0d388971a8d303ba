/**
 * Whatever a file holds: a status, a sentence that names the file, what is wrong and how to mend it; never a stack trace,
 * a hang or half a file. What the disk refuses stands in bad-files.test.ts.
 */
import { describe, expect, test } from "vitest"
import { everyCommand, expectSentences, HEAD, mei, NO_SENTENCE, NOTES } from "./testing/bad-input.js"
import { folderWith, resolutio } from "./testing/program.js"

const folder = folderWith()
const { at, save } = folder

const bomb = [..."bcdefghijk"].map((name, i) => `<!ENTITY ${name} "${`&${"abcdefghij"[i]};`.repeat(10)}">`).join("")

describe("a file that cannot be read: status 2 from every command, and nothing is written", () => {
  test.each<[title: string, name: string, text: string | Uint8Array, told: RegExp]>([
    ["empty", "a.mei", "", /line 1.*empty/],
    ["empty shorthand", "a.figurae", "", /a\.figurae/],
    ["only space", "a.mei", " \n", /line 1.*empty/],
    ["zero bytes", "a.mei", "\u0000\u0001", /not text/],
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
    const { answers, left } = await everyCommand(save(name, text), folder)
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
    const { answers, left } = await everyCommand(save("a.figurae", text), folder)
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
      const { status, out, err } = await resolutio(args)
      expect(status, `${args[0]}: ${err}`).toBe(1)
      const said = args[0] === "read" ? out : err
      expect(said).toMatch(told)
      expectSentences(said, "a.mei")
    }
    const { out } = await resolutio(["read", file, "--format", "json"])
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
    const { answers } = await everyCommand(file, folder)
    for (const { args, status, out, err } of answers) {
      expect(status, `${args.join(" ")}: ${err}`).toBeLessThan(2)
      expect(out + err).not.toMatch(NO_SENTENCE)
    }
  })
})
