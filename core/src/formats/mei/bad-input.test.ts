/** Nothing a file may hold brings the reader down: it answers with what is wrong, where, and how to mend it. */
import { describe, expect, it } from "vitest"
import { newMei, readMei } from "./index.js"
import { piece } from "./testing/standards.js"
import { effort } from "../../base/testing/effort.js"

const HEAD = '<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">'
const wrap = (section: string, head = HEAD) =>
  `${head}<music><body><mdiv><score><scoreDef><staffGrp><staffDef n="1" notationtype="mensural.black"/></staffGrp></scoreDef><section>${section}</section></score></mdiv></body></music></mei>`
const long = (notes: number) =>
  wrap(
    `<staff n="1"><layer>\n${Array.from({ length: notes }, (_, i) => `<note xml:id="n${i}" dur="brevis" pname="c" oct="4"><verse n="1"><syl con="d">la</syl></verse></note>`).join("\n")}</layer></staff>`,
  )

function problemsOf(text: string) {
  const result = readMei(text, "bad.mei")
  expect(result.ok).toBe(false)
  for (const problem of result.problems) {
    expect(problem.what).toMatch(/\S/)
    expect(problem.mend).toMatch(/\.$/)
    expect(problem.where).toMatchObject({
      file: "bad.mei",
      line: expect.any(Number) as number,
      column: expect.any(Number) as number,
    })
    expect(problem.what).not.toMatch(/\n|undefined|\bat \w+ \(/)
  }
  return result.problems
}

const bomb = `<!DOCTYPE mei [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>${HEAD}&b;</mei>`

describe("a file that cannot be read", () => {
  it.each([
    ["xml-empty", ""],
    ["xml-empty", " \n\t \uFEFF"],
    ["not-xml", "M: L B S a4"],
    ["not-xml", "\u0000\u0001\u0002"],
    ["xml-malformed", HEAD.slice(0, 30)],
    ["xml-malformed", `${HEAD}<music>`],
    ["xml-malformed", `${HEAD}<music></body></mei>`],
    ["xml-malformed", `${HEAD}</mei><mei/>`],
    ["xml-malformed", `${HEAD}<note a="1" a="2"/></mei>`],
    ["xml-malformed", `${HEAD}<note a=1/></mei>`],
    ["xml-malformed", `${HEAD}<x:y/></mei>`],
    ["xml-malformed", `${HEAD}&nbsp;</mei>`],
    ["xml-malformed", `${HEAD}this & that</mei>`],
    ["xml-malformed", `${HEAD}\u0007</mei>`],
    ["xml-malformed", `${HEAD}\uD800</mei>`],
    ["xml-malformed", `${HEAD}&#0;</mei>`],
    ["xml-malformed", `${HEAD}<note label="&#xD800;"/></mei>`],
    ["xml-malformed", `${HEAD}<note label="a & b"/></mei>`],
    ["xml-malformed", `${HEAD}<!-- no end`],
    ["xml-entities", bomb],
    ["xml-entities", `<!DOCTYPE mei [<!ENTITY x SYSTEM "file:///etc/passwd">]>${HEAD}&x;</mei>`],
    ["xml-entities", `<!DOCTYPE mei [<!ENTITY % x SYSTEM "http://example.invalid/x.dtd"> %x;]>${HEAD}</mei>`],
    ["xml-too-deep", `${HEAD}${"<section>".repeat(100_000)}`],
    ["xml-too-deep", `${HEAD}${"<choice>".repeat(2000)}${"</choice>".repeat(2000)}</mei>`],
    ["not-mei", "<score-partwise/>"],
    ["not-mei", "<html><body/></html>"],
    ["mei-version", wrap("", HEAD.replace("5.1", "6.0"))],
    ["mei-version", wrap("", HEAD.replace("5.1", "3.0.0"))],
    ["mei-version", wrap("", HEAD.replace("5.1", "5.10"))],
    ["no-mensural-content", `${HEAD}</mei>`],
    ["no-mensural-content", `${HEAD}<music><body/></music></mei>`],
    [
      "no-mensural-content",
      wrap('<measure><staff n="1"><layer><note dur="4"/><rest dur="8"/></layer></staff></measure>').replace(
        ' notationtype="mensural.black"',
        "",
      ),
    ],
    [
      "no-mensural-content",
      wrap('<staff n="1"><layer><note dur="longa"/></layer></staff>').replace("mensural.black", "neume"),
    ],
  ])("says %s", (code, text) => {
    expect(problemsOf(text).map(one => one.code)).toContain(code)
  })

  it("names both versions", () => {
    expect(problemsOf(wrap("", HEAD.replace("5.1", "6.0")))[0]!.what).toMatch(/6\.0.*5\.1/)
  })

  it("names the line and column", () => {
    expect(problemsOf(`${HEAD}\n<music>\n  <body></music></mei>`)[0]!.where).toMatchObject({ line: 3, column: 3 })
    expect(problemsOf(`${HEAD}\n\n  <!-- no end`)[0]!.where).toMatchObject({ line: 3, column: 3 })
  })

  it("is refused fast, however much of nothing it holds", () => {
    const spent = effort()
    problemsOf(" ".repeat(100_000_000))
    problemsOf("\u0000".repeat(50_000_000))
    problemsOf(`${HEAD}${" ".repeat(50_000_000)}`)
    problemsOf("<".repeat(1_000_000))
    problemsOf(`${HEAD}${"<a ".repeat(1_000_000)}`)
    problemsOf(`${HEAD}${"<!--".repeat(1_000_000)}`)
    expect(spent()).toBeLessThan(5000)
  }, 60_000)
})

describe("a file cut short anywhere", () => {
  it("is refused, or read up to there, but never throws", () => {
    const whole = wrap(
      '<staff n="1"><layer><ligature><note dur="longa"/><note/></ligature><app><lem><note dur="brevis"/></lem><rdg/></app></layer></staff>',
    )
    for (let end = 0; end < whole.length; end++) expect(readMei(whole.slice(0, end)).ok).toBe(false)
    expect(readMei(whole).ok).toBe(true)
  })
})

describe("words that mean something to a program", () => {
  it.each(["constructor", "toString", "__proto__", "hasOwnProperty"])("are only words: %s", word => {
    const text = wrap(
      `<staff n="1"><layer><note xml:id="${word}" type="${word} extra:${word}:x" dur="${word}" head.fill="${word}"/><${word}/><dot type="${word}"/><anchoredText type="${word}">x</anchoredText><pb n="1" folium="${word}"/><mensur sign="${word}"/></layer></staff>`,
    )
    const result = readMei(text)
    if (!result.ok) throw new Error("not read")
    expect(result.value.page.voices[0]!.signs.map(sign => sign.kind)).toEqual([
      "other",
      "other",
      "dot",
      "mark",
      "break",
      "mensuration",
    ])
    const again = readMei(newMei(result.value.page))
    expect(again.ok && again.value.page).toEqual(result.value.page)
  })
})

describe("links that lead in circles or nowhere", () => {
  it("are reported and left", () => {
    const text = wrap(
      '<staff n="1"><layer><note xml:id="a" copyof="#a" dur="longa" altsym="#gone" facs="#gone"/></layer><dir xml:id="d" startid="#d">x</dir></staff>',
    )
    const result = readMei(text)
    expect(result.ok).toBe(true)
    expect(result.problems.map(one => one.code)).toEqual(["unknown-symbol", "unknown-sign"])
  })
})

describe("speed", () => {
  const timed = (text: string): number => {
    const spent = effort()
    const result = readMei(text)
    expect(result.ok).toBe(true)
    return spent()
  }
  it("reads twenty thousand notes in a few seconds, and in proportion", () => {
    timed(long(500))
    expect(timed(long(20_000))).toBeLessThan(5000)
  }, 60_000)
  const madrigal = piece("madrigal-a.mei")
  it.skipIf(madrigal === undefined)("reads a real piece of 600 notes at once", () => {
    const best = Math.min(...Array.from({ length: 5 }, () => timed(madrigal!)))
    expect(best).toBeLessThan(400)
  })
  it("reports no more problems than anyone reads", () => {
    const text = wrap(`<staff n="1"><layer>${'<note dur="longa" num="x"/>'.repeat(1000)}</layer></staff>`)
    const { problems } = readMei(text)
    expect(problems).toHaveLength(201)
    expect(problems.at(-1)!.what).toContain("800")
  })
})

it("a page with nothing on it can be written", () => {
  const empty = { title: "", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] }
  expect(readMei(newMei(empty)).problems.map(one => one.code)).toEqual(["no-mensural-content"])
})
