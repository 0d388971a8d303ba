import { describe, expect, test } from "vitest"
import { ratio } from "../../../base/index.js"
import { parseShorthand, type Syllable } from "../../../page/index.js"
import { readPage } from "../../../reading/index.js"
import { alignVoices } from "../../../score/index.js"
import { everything } from "../../../score/testing/everything.js"
import { PIECES } from "../../../score/testing/pieces.js"
import { signsFrom, testPiece, type TestSign } from "../../../score/testing/readings.js"
import { modernMei, partId, plicaId, scoreId } from "./index.js"

const mei = ({ page, readings }: ReturnType<typeof testPiece>) => modernMei(alignVoices(page, readings))
const one = (signs: readonly TestSign[]) => mei(testPiece([{ label: "cantus", signs }]))
/** The text without the spaces between tags. */
const flat = (text: string) => text.replace(/>\s+</g, "><")

describe("ids", () => {
  test.each([
    ["n12", "n12"],
    ["1.12", "s1.12"],
    ["a b", "sa_b"],
    ["-x", "s-x"],
    ["", "s"],
    ["ténor.3", "ténor.3"],
    ["x:1", "sx_1"],
    ["²", "s_"],
  ])("%s becomes %s", (id, expected) => {
    expect(scoreId(id)).toBe(expected)
  })
  test("parts and plicas have ids of their own", () => {
    expect([partId("1.2", 0), partId("1.2", 1), plicaId("n3")]).toEqual(["s1.2", "s1.2.part2", "n3.plica"])
  })
})

describe("what stands on the page is in the score", () => {
  const motet = flat(mei(PIECES.oldMotet()))
  test("title and names of voices", () => {
    expect(motet).toContain("<title>Veni ver novum (invented)</title>")
    expect(motet.match(/<label>.*?<\/label>/g)).toEqual([
      "<label>Triplum</label>",
      "<label>Motetus</label>",
      "<label>Tenor</label>",
    ])
  })
  test("clefs by range, and the signature", () => {
    expect(motet.match(/<clef [^>]*>/g)).toEqual([
      '<clef shape="G" line="2"/>',
      '<clef shape="G" line="2" dis="8" dis.place="below"/>',
      '<clef shape="F" line="4"/>',
    ])
    expect(motet).toContain('<clef shape="G" line="2"/><keySig sig="1f"/><meterSig count="3" unit="4"/>')
    expect(motet).toContain('<note xml:id="s1.13" dur="4" pname="b" oct="4"><accid accid.ges="f"/>')
  })
  test("a ligature has its bracket over a bar line", () => {
    expect(motet).toContain('<bracketSpan func="ligature" lform="solid" staff="2" startid="#s2.5" endid="#s2.7"/>')
  })
  test("a plica is a small slashed note attached to the one before it", () => {
    expect(motet).toContain(
      '<note xml:id="s2.2" dur="2" pname="b" oct="3"/><graceGrp attach="pre" grace="unacc"><note xml:id="s2.2.plica" dur="8" stem.mod="1slash" pname="a" oct="3" grace.time="25%" grace="unacc"/></graceGrp>',
    )
  })
  test("a held final has a fermata on its last part", () => {
    expect(motet).toContain('<fermata startid="#s1.18.part2" place="above"/>')
    expect(motet).toContain('right="end"')
  })
  test("a note over a bar line is tied, and its words stand under its first part only", () => {
    expect(motet).toContain('<note xml:id="s1.17" dur="2" dots="1" tie="i" pname="e" oct="4"><verse')
    expect(motet).toContain('<note xml:id="s1.17.part2" dur="2" dots="1" tie="t" pname="e" oct="4"/>')
  })
  test("coloration of one note that is not split ends within it", () => {
    const text = one(signsFrom("d4:2* e4:2 f4:4"))
    expect(text).toContain('<bracketSpan func="coloration" staff="1" startid="#s1.1" tstamp2="0m+1.6000"/>')
  })
})

describe("words", () => {
  const syllable = (text: string, join: Syllable["join"], stanza = 1): Syllable => ({ text, join, stanza })
  const sung = (...notes: Syllable[][]) =>
    flat(one(notes.map(syllables => ({ duration: ratio(1), pitch: "d4", note: { syllables } })))).match(
      /<verse.*?<\/verse>/g,
    )
  test("hyphens and places in the word", () => {
    expect(sung([syllable("Sal", "-")], [syllable("ve", "-")], [syllable("te", " ")], [syllable("et", "_")])).toEqual([
      '<verse n="1"><syl wordpos="i" con="d">Sal</syl></verse>',
      '<verse n="1"><syl wordpos="m" con="d">ve</syl></verse>',
      '<verse n="1"><syl wordpos="t" con="s">te</syl></verse>',
      '<verse n="1"><syl con="u">et</syl></verse>',
    ])
  })
  test("where a section begins with the second line of words, the first alone before it has no number", () => {
    const labelled = (marks: string, words: string) => {
      const piece = parseShorthand(
        `voice v black practice=ars-nova\nclef:C1 C\nB c4 d ${marks} e f L c\n${words}\n`,
        "piece",
      )
      if (!piece.ok) throw new Error("not read")
      const text = modernMei(alignVoices(piece.value, readPage(piece.value)))
      return [...text.matchAll(/<label>(\d\.)<\/label>\s*<syl[^>]*>([a-z]*)/g)].map(([, ...found]) => found.join(" "))
    }
    const one = "> a b c d e"
    expect(labelled("section", `${one}\n2> *2 f g h`)).toEqual(["1. c", "2. f"])
    expect(labelled("", `${one}\n2> *2 f g h`)).toEqual(["1. a", "2. f"])
    expect(labelled("section", `${one}\n2> f g h i j`)).toEqual(["1. a", "2. f"])
    expect(labelled("section", one)).toEqual([])
  })
  test("stanzas in order, each with its number, elision within one", () => {
    expect(sung([syllable("dos", " ", 2), syllable("u", "~"), syllable("na", " ")])).toEqual([
      '<verse n="1"><label>1.</label><syl con="b">u</syl><syl con="s">na</syl></verse>',
      '<verse n="2"><label>2.</label><syl con="s">dos</syl></verse>',
    ])
  })
})

describe("a meter that changes", () => {
  const span = (onset: number, tempus: 2 | 3, prolatio: 2 | 3) => ({ onset: ratio(onset), tempus, prolatio })
  const two = (change: number) =>
    flat(
      mei(
        testPiece([
          { label: "a", signs: signsFrom("d4:6 e4:6 f4:6 g4:6"), mensurations: [span(0, 3, 2), span(change, 2, 3)] },
          { label: "b", signs: signsFrom("d3:4 e3:4 f3:4 g3:4 f3:4 g3:4"), mensurations: [span(0, 2, 2)] },
        ]),
      ),
    )
  test("at a line that all share stands before it", () => {
    expect(two(12)).toContain(
      '</measure><scoreDef><staffGrp><staffDef n="1"><meterSig count="6" unit="8"/></staffDef></staffGrp></scoreDef>',
    )
  })
  test("within a stretch stands in its layer, and is said again, unseen, where the engraver forgets it", () => {
    expect(two(6)).toContain('<barLine form="single"/><meterSig count="6" unit="8"/>')
    expect(two(6)).toContain('<staffDef n="1"><meterSig count="6" unit="8" visible="false"/></staffDef>')
  })
})

test("an accidental added by an editor stands above, one of the page before the note", () => {
  const signs = signsFrom("fs4:1 cs4:1").map((sign, i) => ({
    ...sign,
    note: { ...sign.note, accidental: "s", accidentalByEditor: i === 0 },
  }))
  const text = one(signs)
  expect(text).toContain('<accid accid="s" accid.ges="s" func="edit" place="above"/>')
  expect(text).toContain('<accid accid="s" accid.ges="s"/>')
})

test("a long title is drawn in lines of about one length", () => {
  const long = "A title of many more words than one line of a page can hold, and of still some more words"
  const text = flat(mei(testPiece([{ label: "v", signs: signsFrom("d4:4") }], long)))
  expect(text).toContain(`<title>${long}</title>`)
  expect(text).toContain(
    ">A title of many more words than one line of a<lb/>page can hold, and of still some more words</rend></pgHead>",
  )
})

test("a note without a pitch is a cross on the middle line", () => {
  const [sign] = signsFrom("d4:4")
  const piece = testPiece([{ label: "v", signs: [sign!] }])
  const readings = piece.readings.map(reading => ({
    ...reading,
    signs: reading.signs.map(one => ({ ...one, pitch: null })),
  }))
  expect(mei({ ...piece, readings })).toContain('<note xml:id="s1.1" dur="2" pname="b" oct="3" head.shape="x"/>')
})

test("repeats, endings and words", () => {
  const text = flat(modernMei(everything()))
  expect(text).toContain('<measure xml:id="bar..1" n="1" left="rptstart">')
  expect(text).toMatch(/<ending n="1" label="1\."><measure xml:id="bar\.\.4" n="4" right="rptend">/)
  expect(text).toMatch(/<\/measure><\/ending><ending n="2" label="2\."><measure xml:id="bar\.\.5" n="5">/)
  expect(text).toContain(
    '<dir staff="1" startid="#s1.1" place="above"><rend fontstyle="italic">Here &lt;begins&gt; &amp; goes on</rend></dir>',
  )
  expect(text).toContain('startid="#s1.14" place="above"><rend fontstyle="italic">Otia dant vitia</rend></dir>')
})

test("inside a tuplet a plica stands alone: the engraver would leave its group out", () => {
  const text = flat(modernMei(everything()))
  expect(text).toMatch(
    /<note xml:id="s1\.8"[^>]*\/?>(?:<verse.*?<\/verse>|<\/note>)*<note xml:id="s1\.8\.plica"[^>]* grace="unacc"\/>/,
  )
})

describe("bars of silence in a part", () => {
  const part = (signs: string, countedRests = true, voices = 1) => {
    const piece = testPiece(
      Array.from({ length: voices }, (_, i) => ({ label: `voice ${i + 1}`, signs: signsFrom(signs) })),
    )
    return flat(modernMei(alignVoices(piece.page, piece.readings), {}, { countedRests }))
  }
  const bars = (text: string) => [...text.matchAll(/<measure xml:id="[^"]*" n="(\d+)"/g)].map(([, n]) => n)
  const usual = part("a4:4 r:4 r:4 r:4 a4:4 r:4 a4:4", false)

  test("stand as one rest with their number; the bars after them keep theirs", () => {
    const counted = part("a4:4 r:4 r:4 r:4 a4:4 r:4 a4:4")
    expect(bars(usual)).toEqual(["1", "2", "3", "4", "5", "6", "7"])
    expect(bars(counted)).toEqual(["1", "2", "5", "6", "7"])
    expect(counted.match(/<multiRest [^>]*>/g)).toEqual(['<multiRest xml:id="s1.2" num="3"/>'])
    expect(counted).toContain('<mRest xml:id="s1.6"/>')
  })
  test("a score has each by itself, and so have all where it is not asked for", () => {
    expect(part("a4:4 r:4 r:4 a4:4", true, 2)).not.toContain("multiRest")
    expect(usual).not.toContain("multiRest")
  })
})
