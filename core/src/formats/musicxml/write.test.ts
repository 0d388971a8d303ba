/** How single things are written. */
import { describe, expect, test } from "vitest"
import { ratio } from "../../base/index.js"
import { alignVoices } from "../../score/index.js"
import { everything } from "../../score/testing/everything.js"
import { withHands } from "../../score/testing/hands.js"
import { PIECES } from "../../score/testing/pieces.js"
import { signsFrom, testPiece, type TestSign } from "../../score/testing/readings.js"
import { writeMusicXml } from "./index.js"

/** The text without the spaces between tags. */
const flat = (text: string) => text.replace(/>\s+</g, "><")
const write = ({ page, readings }: ReturnType<typeof testPiece>) => flat(writeMusicXml(alignVoices(page, readings)))
const one = (signs: readonly TestSign[]) => write(testPiece([{ label: "cantus", signs }]))
const all = flat(writeMusicXml(everything()))
const note = (id: string) => new RegExp(`<note id="${id.replaceAll(".", "\\.")}">.*?</note>`).exec(all)?.[0]

describe("notes", () => {
  test("a note over a bar line is tied; its fermata stands on the last part", () => {
    const motet = write(PIECES.oldMotet())
    expect(motet).toContain(
      '<note id="s1.18"><pitch><step>D</step><octave>4</octave></pitch><duration>45</duration><tie type="start"/>',
    )
    expect(motet).toContain(
      '<note id="s1.18.part2"><pitch><step>D</step><octave>4</octave></pitch><duration>45</duration><tie type="stop"/><voice>1</voice><type>half</type><dot/><notations><tied type="stop"/><fermata type="upright"/></notations></note>',
    )
  })
  test("a tuplet: its ratio on each note, its bracket from the first to the last", () => {
    const first = note("s1.7")
    expect(first).toContain(
      "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>",
    )
    expect(first).toContain('<beam number="1">begin</beam>')
    expect(first).toContain(
      '<notations><tuplet type="start" number="1" bracket="no" placement="above" show-number="actual"/></notations>',
    )
    expect(note("s1.9")).toContain('<tuplet type="stop" number="1"/>')
  })
  test("accidentals: of the page, an editor's, one that reminds", () => {
    expect(note("s1.3")).toContain("<alter>1</alter>")
    expect(note("s1.3")).toContain("<accidental>sharp</accidental>")
    expect(note("s1.4")).toContain('<accidental cautionary="yes" parentheses="yes">natural</accidental>')
    expect(note("s1.5")).toContain('<accidental editorial="yes" size="cue">sharp</accidental>')
  })
  test("a plica is a small slashed note that takes its share from the note before it; a third where that is left open", () => {
    expect(note("s1.8.plica")).toContain('<grace slash="yes" steal-time-previous="75"/><pitch><step>G</step>')
    expect(note("s1.9.plica")).toContain('<grace slash="yes" steal-time-previous="33.33"/>')
  })
  test("a note without a pitch is a cross on the middle line", () => {
    const text = one([{ duration: ratio(4), pitch: "no pitch" }])
    expect(text).toContain("<unpitched><display-step>B</display-step><display-octave>3</display-octave></unpitched>")
    expect(text).toContain("<notehead>x</notehead>")
  })
  test("beams: one run for each level of flags, hooks where a note stands alone on its level", () => {
    const text = one(signsFrom("d4:1/2 e4:1 f4:1/4 g4:1/4 a4:2"))
    const beams = [...text.matchAll(/<note .*?<\/note>/g)].map(([found]) =>
      [...found.matchAll(/<beam number="(\d)">([^<]*)</g)].map(([, n, kind]) => `${n} ${kind}`),
    )
    expect(beams).toEqual([
      ["1 begin", "2 forward hook"],
      ["1 continue"],
      ["1 continue", "2 begin", "3 begin"],
      ["1 end", "2 end", "3 end"],
      [],
    ])
  })
})

describe("words", () => {
  test("places in the word, stanzas, italics, an extender", () => {
    expect(note("s1.2")).toContain(
      '<lyric number="1"><syllabic>begin</syllabic><text>flo</text></lyric><lyric number="2"><syllabic>begin</syllabic><text font-style="italic">no</text></lyric>',
    )
    expect(note("s1.5")).toContain('<lyric number="1"><syllabic>end</syllabic><text>va</text><extend/></lyric>')
  })
  test("an elision is one lyric", () => {
    expect(note("s1.3")).toContain(
      '<lyric number="1"><syllabic>end</syllabic><text>re</text><elision>‿</elision><syllabic>begin</syllabic><text>a</text></lyric>',
    )
  })
  test("stand under the first part of a note only", () => {
    const text = one([{ duration: ratio(6), pitch: "d4", note: { syllables: [{ stanza: 1, text: "O", join: " " }] } }])
    expect(text.match(/<lyric/g)).toHaveLength(1)
  })
})

describe("over the notes", () => {
  const bracket = (type: string, kind: string) =>
    kind === "ligature"
      ? `<bracket type="${type}" line-end="down" number="1" line-type="solid"/>`
      : `<bracket type="${type}" line-end="down" number="2" line-type="dashed" dash-length="4"/>`
  const direction = (content: string) =>
    `<direction placement="above"><direction-type>${content}</direction-type></direction>`
  test("a solid bracket for a ligature, a dashed one for coloration", () => {
    expect(all).toContain(`${direction(bracket("start", "ligature"))}<note id="s1.12">`)
    expect(all).toContain(`${note("s1.13")}${direction(bracket("stop", "ligature"))}`)
    expect(all).toContain(`${direction(bracket("start", "coloration"))}<note id="s1.7">`)
    expect(all).toContain(direction(bracket("stop", "coloration")))
  })
  test("signum and words", () => {
    expect(all).toContain(`${direction("<symbol>mensuralSignumUp</symbol>")}<note id="s1.4">`)
    expect(all).toContain(direction('<words font-style="italic">Here &lt;begins&gt; &amp; goes on</words>'))
  })
  test("the speed at each mensuration of the upper voice, by what is counted there", () => {
    const text = write(PIECES.threeSigns())
    expect(text.match(/<metronome.*?<\/direction>/g)).toEqual([
      '<metronome parentheses="yes"><beat-unit>quarter</beat-unit><per-minute>120</per-minute></metronome></direction-type><sound tempo="120"/></direction>',
      '<metronome parentheses="yes"><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>80</per-minute></metronome></direction-type><sound tempo="120"/></direction>',
    ])
  })
})

describe("bars", () => {
  test("repeats and endings where all voices have a line stand in every part", () => {
    const parts = all.split("<part id=").slice(1)
    expect(parts).toHaveLength(2)
    for (const part of parts) {
      expect(part).toContain(
        '<measure number="1"><barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>',
      )
      expect(part).toContain('<barline location="left"><ending number="1" type="start">1.</ending></barline>')
      expect(part).toContain(
        '<barline location="right"><bar-style>light-heavy</bar-style><ending number="1" type="stop"/><repeat direction="backward"/></barline>',
      )
      expect(part).toContain('<barline location="right"><ending number="2" type="discontinue"/></barline>')
    }
  })
  test("a repeat is never within a bar, and no beam goes over it", () => {
    expect(all.match(/<repeat direction="forward"\/>/g)).toHaveLength(4)
    expect(all).not.toMatch(/<barline location="middle">[^!]*?<repeat/)
    expect(note("s1.14")).not.toContain("<beam")
    expect(note("s1.15")).not.toContain("<beam")
  })
  test("where bars differ, a voice has its own lines inside a stretch, and its own meter", () => {
    const text = write(PIECES.threeSigns())
    expect(text).toContain('<barline location="middle"><bar-style>regular</bar-style></barline>')
    expect(text.match(/<time>.*?<\/time>/g)?.slice(0, 2)).toEqual([
      "<time><beats>3</beats><beat-type>4</beat-type></time>",
      "<time><beats>6</beats><beat-type>8</beat-type></time>",
    ])
  })
  test("a line that one voice alone has at the end of a stretch is drawn in its part, and in no other", () => {
    const voice = (label: string, tempus: 2 | 3, prolatio: 2 | 3) => ({
      label,
      signs: signsFrom("d4:4 ".repeat(9)),
      mensurations: [{ onset: ratio(0), tempus, prolatio }],
    })
    const parts = write(testPiece([voice("a", 2, 2), voice("b", 3, 3)]))
      .split("<part id=")
      .slice(1)
    const unseen = parts.map(part => part.match(/<bar-style>none<\/bar-style>/g)?.length ?? 0)
    expect(unseen).toEqual([0, 5])
  })
  test("the group's lines as asked", () => {
    expect(all).toContain("<group-barline>no</group-barline>")
    expect(flat(writeMusicXml(everything(), { bars: "between" }))).toContain(
      '<part-group type="start" number="1"><group-symbol>bracket</group-symbol><group-barline>Mensurstrich</group-barline></part-group>',
    )
  })
})

test("names, signature, clef and divisions of the parts", () => {
  const motet = write(PIECES.oldMotet())
  expect(motet.match(/<part-name>.*?<\/part-name>/g)).toEqual([
    "<part-name>Triplum</part-name>",
    "<part-name>Motetus</part-name>",
    "<part-name>Tenor</part-name>",
  ])
  expect(motet).toContain(
    "<attributes><divisions>15</divisions><key><fifths>-1</fifths></key><time><beats>3</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>",
  )
  expect(motet).toContain("<clef-octave-change>-1</clef-octave-change>")
})

test("a reduction that is none is refused", () => {
  expect(() => writeMusicXml(everything(), { reduction: 3 })).toThrow(RangeError)
})

describe("what an editor supplied or corrected", () => {
  const piece = testPiece([{ label: "v", signs: signsFrom("d4:4 e4:4 r:4 f4:2 r:2") }])
  const marked = (chosen: Parameters<typeof writeMusicXml>[1]) =>
    [
      ...flat(writeMusicXml(alignVoices(withHands(piece.page), piece.readings), chosen)).matchAll(/<note .*?<\/note>/g),
    ].map(([text]) => [...text.matchAll(/<(?:level|notehead)[^>]*>[a-z]*|size="cue">[a-z]*/g)].map(([found]) => found))
  test("in brackets: as a level, and parentheses around heads", () => {
    const head = '<notehead parentheses="yes">normal'
    expect(marked({})).toEqual([
      ['<level bracket="yes">supplied', head],
      ['<level bracket="yes">supplied', head],
      ['<level bracket="yes">corrected'],
      [],
      [],
    ])
  })
  test("small, or like the others", () => {
    expect(marked({ supplied: "small" })[0]).toEqual(['<level size="cue">supplied', 'size="cue">half'])
    expect(marked({ supplied: "none" }).flat()).toEqual([])
  })
})
