import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { parseShorthand } from "../../page/shorthand/index.js"
import { randomPage } from "../../page/testing/random-page.js"
import { readTogether } from "../../together/index.js"
import { alignVoices, notate, TooShort } from "../../score/index.js"
import {
  criticalReport,
  reportCsv,
  reportMarkdown,
  reportPlace,
  reportSections,
  reportSentence,
  reportText,
  type ReportEntry,
} from "./index.js"
import { runs } from "../../base/testing/runs.js"

function report(text: string, doubtFrom?: number): ReportEntry[] {
  const page = parseShorthand(text, "test")
  if (!page.ok) throw new Error(page.problems[0]!.what)
  const { readings } = readTogether(page.value)
  const score = alignVoices(page.value, readings)
  return criticalReport({ page: page.value, readings, score }, doubtFrom === undefined ? {} : { doubtFrom })
}
const of = (entries: readonly ReportEntry[], kind: ReportEntry["kind"]) => entries.filter(one => one.kind === kind)

/** Invented: every kind of editor's hand, in a voice whose mensuration leaves no choice. */
const EMENDED = `title: An emended voice
person ed "The editor"
person srcA "Source A"
person srcB "Source B"
voice cantus black practice=ars-nova
clef:C4 C folio:3v
B a3 M g:supplied(resp=ed reason="worn") f:supplied(resp=ed reason="worn") S f B f:unclear(cert=low)
S e:lem(source=srcA):id=k1 f B a:corr(resp=ed reason="the voices meet only so") line:2 B g

alternative rdg for=k1 by=rdg(source=srcB)
M e3 d

alternative sic for=1.11
B g3
`

describe("what the file holds", () => {
  const entries = report(EMENDED)
  test("an emendation: what the source has, what stands here, why and by whom", () => {
    expect(of(entries, "emendation")).toEqual([
      {
        kind: "emendation",
        bar: "5",
        voice: "cantus",
        number: "8",
        place: "f. 3v, staff 1, sign 8",
        sign: "1.11",
        source: "brevis g3",
        edition: "brevis a3",
        why: "the voices meet only so",
        who: "The editor",
      },
    ])
  })
  test("signs side by side under one hand are one line", () => {
    expect(of(entries, "supplied")).toMatchObject([
      { bar: "2", number: "2–3", edition: "minima g3, minima f3", why: "worn", who: "The editor" },
    ])
  })
  test("what is hard to read, with how sure it is", () => {
    expect(of(entries, "unclear")).toMatchObject([
      { bar: "3", number: "5", edition: "brevis f3", why: "(certainty: low)" },
    ])
  })
  test("what another source has", () => {
    expect(of(entries, "reading")).toMatchObject([
      { bar: "4", number: "6", edition: "semibrevis e3 (Source A)", source: "Source B: minima e3, minima d3" },
    ])
  })
  test("kinds in their order, and within them by bar", () => {
    expect(entries.map(one => one.kind)).toEqual(["emendation", "supplied", "unclear", "reading"])
  })
  test("a reading that another source alone has is told with its voice", () => {
    const alone = report("voice cantus practice=ars-nova\nC B c4 d\nalternative rdg by=rdg(source=B)\nM e4\n")
    expect(of(alone, "reading")).toMatchObject([{ voice: "cantus", source: "B: minima e4", edition: "nothing" }])
  })
})

describe("how it was read", () => {
  const OPEN = "voice cantus practice=ars-nova\nO B c4 S d B e\n"
  test("a decision tells what the rules would have read", () => {
    const entries = report(`person ed "The editor"\n${OPEN}decision on=1.2 duration=6 who=ed why="a reason"\n`)
    expect(of(entries, "decision")).toMatchObject([
      {
        bar: "1",
        number: "1",
        source: "brevis c4",
        edition: "6 minims; by the rules 4",
        why: "a reason",
        who: "The editor",
      },
    ])
  })
  test("decisions made as one under a label are one line", () => {
    const both = "decision on=1.2 duration=6 label=r\ndecision on=1.3 duration=2 label=r\n"
    expect(of(report(OPEN + both), "decision")).toMatchObject([{ number: "1–2", source: "2 signs, decided as one" }])
  })
  test("a dot that was decided is told by the note it follows", () => {
    const entries = report("voice cantus practice=ars-nova\nO S c4 . B d S e f B g\ndecision on=1.3 dot=division\n")
    expect(of(entries, "decision")).toMatchObject([
      { number: "after 1", source: "a dot", edition: "it is a dot of division" },
    ])
  })
  test("readings are open from the doubt that is asked for on, with what else they could be", () => {
    const page = "voice cantus black practice=ars-nova\nclef:C4 O\nB a3 S g f d B a S g B f S f S d c B a\n"
    const all = of(report(page, 0), "open")
    expect(all.length).toBeGreaterThan(1)
    expect(all.every(one => one.doubt !== undefined && /could also last|two readings/.test(one.why))).toBe(true)
    for (const from of [0.05, 0.3, 0.9])
      expect(of(report(page, from), "open").every(one => one.doubt! >= from)).toBe(true)
    expect(of(report(page, 0.3), "open").length).toBeLessThan(all.length)
  })
  test("voices that do not meet", () => {
    const parted = report("voice a practice=ars-nova\nC B c4 d e f\nvoice b practice=ars-nova\nC B c4 d S e B f\n")
    expect(
      of(parted, "parting")
        .map(one => one.why)
        .join(),
    ).toContain("do not meet")
  })
})

describe("forms", () => {
  const hostile = report(
    EMENDED.replace('"The editor"', '"=HYPERLINK(1) | <b>*x*</b>"').replace('reason="worn"', 'reason="a | b\\nc"'),
  )
  test("a sentence for each line", () => {
    const [emended] = of(report(EMENDED), "emendation")
    expect(`${reportPlace(emended!)}: ${reportSentence(emended!)}`).toBe(
      "bar 5, cantus 8 (f. 3v, staff 1, sign 8): The source has brevis g3; here brevis a3. The voices meet only so. (The editor)",
    )
  })
  test("text: each section with its lines; a report of nothing says so", () => {
    const text = reportText(report(EMENDED), { title: "T", doubtFrom: 0.2 })
    for (const { heading, entries } of reportSections(report(EMENDED))) {
      expect(text).toContain(`${heading}. `)
      for (const entry of entries) expect(text).toContain(`  ${reportPlace(entry)}\n    ${reportSentence(entry)}\n`)
    }
    expect(reportText([], { title: "", doubtFrom: 0.2 })).toContain("There is nothing to report")
  })
  test("Markdown: rows of one length, whatever the file says", () => {
    const tables = reportMarkdown(hostile, { title: "a | *b*", doubtFrom: 0.2 })
      .split(/\n\n/)
      .filter(part => part.startsWith("|"))
    expect(tables.length).toBe(reportSections(hostile).length)
    for (const table of tables) {
      const lengths = table
        .trim()
        .split("\n")
        .map(row => row.replace(/\\./g, "").split("|").length)
      expect(new Set(lengths).size).toBe(1)
    }
    expect(tables.join()).not.toMatch(/[^\\]<b>/)
  })
  test("CSV: a line for each entry, nothing that a spreadsheet takes for a formula", () => {
    const rows = reportCsv(hostile).trimEnd().split("\r\n")
    expect(rows[0]).toBe("kind,bar,voice,number,place,id,source,edition,why,who,doubt")
    expect(rows).toHaveLength(hostile.length + 1)
    expect(rows.join("\n")).toContain("'=HYPERLINK(1)")
  })
})

test("any page has a report, and its places are those of its signs", () => {
  fc.assert(
    fc.property(randomPage({ signs: 30, voices: 3 }), page => {
      const { readings } = readTogether(page)
      const score = alignVoices(page, readings)
      // the program says so of times that no modern sign can show
      if (isTooShort(() => notate(score))) return
      const entries = criticalReport({ page, readings, score }, { doubtFrom: 0 })
      for (const entry of entries) {
        expect(reportSentence(entry)).not.toMatch(/undefined|null|NaN|\[object/)
        if (entry.sign !== null && entry.kind !== "parting" && entry.place !== "") expect(entry.voice).not.toBe("")
      }
    }),
    { numRuns: runs(30) },
  )
})

function isTooShort(act: () => unknown): boolean {
  try {
    act()
    return false
  } catch (error) {
    if (error instanceof TooShort) return true
    throw error
  }
}

describe("mensurations that were found", () => {
  const BARE =
    "voice cantus black\nclef:C1\nB c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c M d e B f\n"
  test("stand in the report with their doubt", () => {
    const [line] = of(report(BARE), "found")
    expect(line).toMatchObject({
      voice: "cantus",
      number: "at the beginning",
      edition: "imperfect modus minor, perfect tempus, prolatio minor",
    })
    expect(reportSentence(line!)).toMatch(
      /^Read in imperfect modus minor, perfect tempus, prolatio minor \(doubt \d\.\d\d\)\.$/,
    )
  })
  test("but not what a sign states, nor where there are no signs yet", () => {
    expect(of(report(BARE.replace("clef:C1", "clef:C1 O")), "found")).toEqual([])
    expect(of(report("voice tenor black practice=ars-antiqua\nclef:C4\nL a3 B g L f B g L f\n"), "found")).toEqual([])
  })
  test("one that an editor supplied in words is named by its words", () => {
    const entries = report(BARE.replace("clef:C1", "clef:C1 mens:tempus=3:prolatio=2:supplied(reason=worn)"))
    expect(of(entries, "supplied")).toMatchObject([{ edition: "perfect tempus, prolatio minor" }])
  })
})
