/** The ways in which files of MEI 4.0, 5.0 and 5.1 lay out the same page. */
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { everySign, type Sign } from "../../page/index.js"
import { readMei } from "./index.js"

const read = (text: string) => mustWork(readMei(text)).page
const mei = (body: string, version = "5.1") =>
  `<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="${version}"><music><body>${body}</body></music></mei>`
const DEF = '<staffDef n="1" lines="5" notationtype="mensural.black"/>'
const score = (section: string, def = DEF) =>
  mei(`<mdiv><score><scoreDef><staffGrp>${def}</staffGrp></scoreDef><section>${section}</section></score></mdiv>`)
const layer = (signs: string) => score(`<staff n="1"><layer>${signs}</layer></staff>`)
const first = (text: string): readonly Sign[] => read(text).voices[0]!.signs
const show = (signs: readonly Sign[]) =>
  signs
    .map(
      sign =>
        ("level" in sign && sign.level) || ("of" in sign && sign.of) || ("form" in sign && sign.form) || sign.kind,
    )
    .join(" ")

describe("definitions", () => {
  it("pass what they say from score to staff, through nested groups", () => {
    const def = `<scoreDef keysig="1f" clef.shape="C" clef.line="3" tempus="3" notationtype="mensural.white"><staffGrp><staffGrp>
      <staffDef n="1"><label>Cantus</label></staffDef></staffGrp><staffGrp><staffDef n="2" clef.shape="F" clef.line="4" tempus="2" keysig="0"/></staffGrp></staffGrp></scoreDef>`
    const page = read(mei(`<mdiv><score>${def}<section/></score></mdiv>`))
    expect(page.voices).toMatchObject([
      {
        label: "Cantus",
        notation: "white",
        signs: [{ shape: "C", line: 3 }, { accidentals: [{ step: "b", accidental: "f" }] }, { tempus: 3 }],
      },
      { label: "2", notation: "white", signs: [{ shape: "F", line: 4 }, { tempus: 2 }] },
    ])
  })

  it.each([
    ['key.sig="2f"', { kind: "signature", accidentals: [{ step: "b" }, { step: "e" }], initial: true }],
    ['keysig="1s"', { kind: "signature", accidentals: [{ step: "f", accidental: "s" }], initial: true }],
    ['mensur.sign="O" mensur.dot="true" mensur.slash="1"', { kind: "mensuration", sign: "O", dots: 1, strokes: 1 }],
    ['mensur.sign="C" mensur.orient="reversed"', { kind: "mensuration", sign: "C", reversed: true }],
    ['mensur.sign="C" prolatio="3" tempus="2"', { kind: "mensuration", sign: "C", prolatio: 3, tempus: 2 }],
    ['proport.num="3" proport.numbase="2"', { kind: "proportion", num: 3, numbase: 2 }],
    ['divisio="octonaria"', { kind: "mensuration", letter: "o" }],
    [
      'clef.shape="F" clef.line="4" clef.dis="8" clef.dis.place="below"',
      { kind: "clef", shape: "F", line: 4, octaveShift: -1 },
    ],
    ['mensur.sign="O" mensur.color="red"', { kind: "mensuration", sign: "O", extra: { "mei:color": "red" } }],
  ])("with %s", (attributes, sign) => {
    expect(first(score("", `<staffDef n="1" notationtype="mensural" ${attributes}/>`))).toMatchObject([sign])
  })

  it("let a child override an attribute, and say so when the two disagree", () => {
    const text = score(
      "",
      '<staffDef n="1" notationtype="mensural" clef.shape="F" clef.line="4" tempus="2" modusminor="3"><clef shape="C" line="1"/><mensur sign="O" tempus="3"/></staffDef>',
    )
    expect(first(text)).toMatchObject([
      { shape: "C", line: 1 },
      { sign: "O", tempus: 3, modusMinor: 3 },
    ])
    expect(readMei(text).problems.map(one => one.code)).toEqual(["contradictory-attributes"])
  })

  it("in the course of the piece change the voice where they stand", () => {
    const text = score(
      '<staff n="1"><layer><note dur="longa"/></layer></staff><scoreDef mensur.sign="C" keysig="1f"/><staff n="1"><layer><note dur="brevis"/><staffDef clef.shape="C" clef.line="2"/><note dur="minima"/></layer></staff>',
    )
    expect(show(first(text))).toBe("longa signature mensuration brevis clef minima")
    const forOne = score(
      '<staff n="1"><layer><note dur="longa"/></layer></staff><staffDef n="1" mensur.sign="O"/><staff n="1"><layer><note dur="brevis"/></layer></staff>',
    )
    expect(first(forOne)).toMatchObject([{}, { kind: "mensuration", sign: "O" }, {}])
    expect(first(forOne)[1]).not.toHaveProperty("initial")
  })
})

describe("structure", () => {
  it("runs on through measures, sections, movements and endings", () => {
    const staff = (dur: string) => `<staff n="1"><layer><note dur="${dur}"/></layer></staff>`
    const movement = (inside: string, label = "") =>
      `<mdiv ${label}><score><scoreDef><staffGrp>${DEF}</staffGrp></scoreDef>${inside}</score></mdiv>`
    const text = mei(
      movement(`<section><measure n="1">${staff("maxima")}</measure><measure n="2">${staff("longa")}</measure></section><section>
        <ending n="1">${staff("brevis")}</ending><ending n="2">${staff("semibrevis")}</ending></section>`) +
        movement(`<section><pb n="3"/><section>${staff("minima")}</section></section>`, 'label="Secunda pars"'),
      "5.0",
    )
    expect(show(first(text))).toBe("maxima longa ending-open brevis ending-closed semibrevis section folio minima")
    expect(first(text).find(sign => sign.kind === "mark" && sign.of === "section")).toMatchObject({
      text: "Secunda pars",
    })
  })

  it("may be in parts, each numbering its staves for itself", () => {
    const part = (label: string, dur: string) =>
      `<part><scoreDef><staffGrp><staffDef n="1" label="${label}" notationtype="mensural"/></staffGrp></scoreDef><section><staff n="1"><layer><note dur="${dur}"/></layer></staff></section></part>`
    const { voices } = read(mei(`<mdiv><parts>${part("Triplum", "longa")}${part("Tenor", "maxima")}</parts></mdiv>`))
    expect(voices.map(voice => [voice.n, voice.label, show(voice.signs)])).toEqual([
      ["1", "Triplum", "longa"],
      ["2", "Tenor", "maxima"],
    ])
  })

  it("may divide a staff between two readings of whole staves", () => {
    const text = score(
      '<app><lem><staff n="1"><layer><note dur="longa" xml:id="a"/></layer></staff></lem><rdg><staff n="1"><layer><note dur="brevis" xml:id="b"/></layer></staff></rdg></app>',
    )
    expect(show(first(text))).toBe("longa")
    expect(read(text).alternatives).toMatchObject([{ insteadOf: ["a"], signs: [{ id: "b" }] }])
  })

  it("has a staff without a definition, and a second layer, read and reported", () => {
    const text = score(
      '<staff n="1"><layer/><layer n="2"><note dur="longa"/></layer><layer/></staff><staff n="7"><layer><note dur="brevis"/></layer></staff>',
    )
    expect(read(text).voices.map(voice => [voice.n, show(voice.signs)])).toEqual([
      ["1", ""],
      ["1b", "longa"],
      ["7", "brevis"],
    ])
    expect(readMei(text).problems.map(one => one.code)).toEqual(["second-layer", "undefined-staff"])
  })
})

describe("signs", () => {
  it.each([
    ['<note dur="longa" dots="1"/>', "longa dot"],
    ['<note dur="longa" dots="1"/><dot/>', "longa dot"],
    ['<note dur="longa" dots="1"><dot form="aug"/></note>', "longa dot"],
    ['<note dur="longa"><dot form="div" type="divisio.modi stroke"/></note>', "longa divisio-modi"],
    ['<space dur="longa"/><note dur="longa"/>', "longa"],
    ['<choice><sic><note dur="longa"/></sic><corr><note dur="brevis"/></corr></choice>', "brevis"],
    ['<choice><orig><note dur="longa"/></orig><reg><note dur="brevis"/></reg></choice>', "longa"],
    ['<app><rdg><note dur="longa"/></rdg><rdg><note dur="brevis"/></rdg></app>', "longa"],
    ['<subst><del><note dur="longa"/></del><add><note dur="brevis"/></add></subst>', "brevis"],
    ['<barLine/><barLine form="dbl"/><barLine form="invis"/>', "bar bar"],
    ['<barLine form="rptboth"/>', "repeat-end repeat-start"],
    ['<note dur="long"/><note dur="2"/>', "longa minima"],
    ['<note dur="Longa"/><note dur="BREVIS"/>', "longa brevis"],
    ['<beam><note dur="minima"/></beam><group><seg><rest dur="longa"/></seg></group>', "minima longa"],
  ])("%s are %s", (signs, expected) => {
    expect(show(first(layer(signs)))).toBe(expected)
  })

  it("take coloration from what the notation has for ordinary", () => {
    const colours = (notation: string, attributes: string) => {
      const text = score(
        `<staff n="1"><layer><note dur="longa" ${attributes}/></layer></staff>`,
        `<staffDef n="1" notationtype="mensural.${notation}"/>`,
      )
      return first(text).map(sign => sign.kind === "note" && sign.coloration)[0]
    }
    expect(colours("black", 'colored="true"')).toBe("void")
    expect(colours("white", 'colored="true"')).toBe("black")
    expect(colours("white", 'head.fill="void"')).toBe("none")
    expect(colours("black", 'head.fill="void"')).toBe("void")
    expect(colours("black", 'head.fill="solid"')).toBe("none")
    expect(colours("black", 'color="#c00000"')).toBe("red")
    expect(colours("black", 'head.color="red" head.fill="void"')).toBe("red-void")
    expect(colours("black", 'color="blue"')).toBe("other")
    expect(colours("black", 'color="black"')).toBe("none")
  })

  it("may stand below the syllable that is sung on them", () => {
    const syllable = (inside: string) => first(layer(`<syllable><syl con="d">so</syl>${inside}</syllable>`))
    expect(show(syllable('<note dur="longa"/><note dur="brevis"/>'))).toBe("longa brevis")
    expect(syllable('<note dur="longa"/><note dur="brevis"/>')).toMatchObject([
      { syllables: [{ text: "so", join: "-" }] },
      { syllables: [] },
    ])
    expect(syllable("<ligature><note/><note/></ligature>")).toMatchObject([
      { members: [{ syllables: [{ text: "so" }] }, { syllables: [] }] },
    ])
  })

  it("join the notes of an oblique body however it is marked", () => {
    const obliques = (...marked: boolean[]) => {
      const notes = marked.map(one => `<note pname="c" oct="4"${one ? ' lig="obliqua"' : ""}/>`).join("")
      const [ligature] = first(layer(`<ligature>${notes}</ligature>`))
      return ligature?.kind === "ligature" && ligature.members.map(one => one.kind === "note" && one.oblique === true)
    }
    expect(obliques(true, true, false)).toEqual([true, false, false])
    expect(obliques(true, false)).toEqual([true, false])
    expect(obliques(false, true)).toEqual([true, false])
    expect(obliques(true, true, true, true)).toEqual([true, false, true, false])
    expect(obliques(true)).toEqual([false])
  })

  it("have ids of their own, the same at each reading", () => {
    const text = layer(
      '<note dur="longa"/><ligature><note dur="longa"/><note xml:id="x" dur="longa"/></ligature><note xml:id="x" dur="longa"/><rest dur="longa"/>',
    )
    const ids = () => [...everySign(first(text))].map(sign => sign.id)
    expect(ids()).toEqual(["1.1", "1.2", "1.3", "x", "1.5", "1.6"])
    expect(ids()).toEqual(ids())
    expect(readMei(text).problems.map(one => one.code)).toEqual(["duplicate-id"])
  })

  it("have their own words only, where a converter put those of all voices under them, ids and all", () => {
    // common practice of converters from columns of text; an id stands once in a document (XML 1.0, validity constraint “ID”)
    const verse = (id: string, n: number, text: string) => `<verse xml:id="${id}" n="${n}"><syl>${text}</syl></verse>`
    const under = (...verses: string[]) => layer(`<note dur="brevis"/><note dur="brevis">${verses.join("")}</note>`)
    const words = (text: string) =>
      first(text).flatMap(one => (one.kind === "note" ? one.syllables.map(({ stanza, text }) => [stanza, text]) : []))
    const copied = under(verse("a", 1, "so"), verse("b", 2, "le"), verse("a", 3, "so"))
    expect(words(copied)).toEqual([
      [1, "so"],
      [2, "le"],
    ])
    expect(readMei(copied).problems.map(one => [one.code, one.severity])).toEqual([["copied-verses", "warning"]])
    // other words under the same id are no copy
    expect(words(under(verse("a", 1, "so"), verse("a", 2, "le")))).toHaveLength(2)
  })

  it("that are impossible are reported where they stand, and the rest is read", () => {
    const text = layer(
      '\n<note dur="longa" pname="h" oct="99" num="-1" stem.dir="round"/>\n<rest dur="huge"/><note/><clef shape="Q"/><proport/><rest dur="2B" spaces="3"/><note dur="brevis" dur.quality="duplex"/>',
    )
    const { problems } = readMei(text, "a.mei")
    expect(show(first(text))).toBe("longa other other other other rest brevis")
    expect(problems.map(one => one.code).sort()).toEqual(
      [
        ...Array.from({ length: 7 }, () => "impossible-attribute"),
        "contradictory-attributes",
        "level-missing",
        "level-missing",
        "proportion-without-number",
      ].sort(),
    )
    for (const problem of problems) {
      expect(problem.where).toMatchObject({ file: "a.mei" })
      expect(problem.where!.line).toBeGreaterThanOrEqual(2)
      expect(problem.mend).toMatch(/\.$/)
    }
  })

  it.each([
    ["perfecta", 3, 2],
    ["imperfecta", 1, 2],
    ["altera", 1, 1],
    ["minor", 1, 2],
    ["maior", 1, 1],
  ])("that contradict each other on one note are reported: %s, %i in the place of %i", (quality, num, numbase) => {
    const { problems } = readMei(
      layer(`\n<note dur="brevis" dur.quality="${quality}" num="${num}" numbase="${numbase}"/>`),
      "a.mei",
    )
    expect(problems).toMatchObject([
      {
        code: "contradictory-attributes",
        what: `dur.quality="${quality}" and num="${num}" numbase="${numbase}" contradict each other; the numbers are read.`,
        where: { file: "a.mei", line: 2 },
      },
    ])
    expect(problems[0]!.mend).toMatch(/Take one of them out/)
  })

  it.each([
    ["perfecta", 1, 1],
    ["perfecta", 6, 5],
    ["perfecta", 2, 3],
    ["imperfecta", 3, 2],
    ["imperfecta", 1, 1],
    ["imperfecta", 2, 3],
    ["altera", 1, 2],
    ["altera", 3, 5],
    ["maior", 1, 2],
  ])("that may both be right are taken as they are: %s, %i in the place of %i", (quality, num, numbase) => {
    expect(
      readMei(layer(`<note dur="brevis" dur.quality="${quality}" num="${num}" numbase="${numbase}"/>`)).problems,
    ).toEqual([])
  })

  it("found outside their own namespace or unknown are kept apart from the music", () => {
    const text = layer('<x:note xmlns:x="urn:x" dur="longa"/><artic/><note dur="brevis"/>')
    expect(show(first(text))).toBe("other brevis")
  })

  it("are found in a prefixed file too", () => {
    const text =
      '<m:mei xmlns:m="http://www.music-encoding.org/ns/mei" meiversion="4.0.1"><m:music><m:body><m:mdiv><m:score><m:scoreDef><m:staffGrp><m:staffDef n="1" notationtype="mensural"/></m:staffGrp></m:scoreDef><m:section><m:staff n="1"><m:layer><m:note dur="longa"/></m:layer></m:staff></m:section></m:score></m:mdiv></m:body></m:music></m:mei>'
    expect(show(first(text))).toBe("longa")
  })

  it("right in a staff are read as if in a layer, and those in no staff are told", () => {
    const text = layer('<note dur="longa"/>')
    const bare = text.replace(/<layer[^>]*>/, "").replace("</layer>", '<note dur="brevis"/>')
    expect(show(first(bare))).toBe("longa brevis")
    expect(readMei(bare).problems.map(one => one.code)).toEqual(["outside-layer"])
    const lost = text.replace("</section>", '<note dur="brevis"/></section>')
    expect(show(first(lost))).toBe("longa")
    expect(readMei(lost).problems.map(one => one.code)).toEqual(["outside-staff"])
  })

  it("sounding together have the level of their chord, and a gap with a level is told unless it fills a measure", () => {
    const text = layer('<chord dur="longa"><note/><note/></chord><space dur="brevis"/><note dur="brevis"/>')
    expect(show(first(text))).toBe("longa brevis")
    expect(readMei(text).problems.map(one => one.code)).toEqual(["chord", "space"])
    const measured = text.replace("<staff ", '<measure n="1"><staff ').replace(/<\/staff>/, "</staff></measure>")
    expect(readMei(measured).problems.map(one => one.code)).toEqual(["chord"])
  })
})
