import { describe, expect, test } from "vitest"
import { NO_HEAD, meiHead } from "./index.js"

/** Invented; elements as MEI 5.1 has them in its header module. */
const HEAD = `<?xml version="1.0"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead>
  <fileDesc>
    <titleStmt>
      <title>Pons  novus</title><title type="subordinate">A song</title>
      <composer>A. Nonymous</composer>
      <respStmt><resp>Editor</resp><persName>B. Invented</persName></respStmt>
      <respStmt><persName role="lyricist">C. Poet</persName></respStmt>
    </titleStmt>
    <pubStmt><availability><useRestrict>For all.</useRestrict></availability></pubStmt>
    <sourceDesc><source><bibl>An old book</bibl></source></sourceDesc>
  </fileDesc>
  <workList><work><title>Pons novus</title><creation><date>c. 1400</date></creation></work></workList>
  <manifestationList><manifestation>
    <titleStmt><title>A great book</title></titleStmt>
    <physLoc><repository>Library of Nowhere<identifier>MS 7</identifier></repository></physLoc>
    <pubStmt><date isodate="1405"/></pubStmt>
  </manifestation></manifestationList>
</meiHead><music/></mei>`

describe("meiHead", () => {
  test("titles, people, date, sources", () => {
    expect(meiHead(HEAD)).toEqual({
      title: "Pons novus",
      subtitles: ["A song"],
      composers: ["A. Nonymous"],
      poets: ["C. Poet"],
      editors: ["B. Invented"],
      date: "c. 1400",
      sources: ["An old book", "A great book, Library of NowhereMS 7, 1405"],
      rights: "For all.",
    })
  })
  test.each(["", "no XML", "<mei/>", "<mei><meiHead/></mei>", "<a><b></a>"])("%j says nothing", text => {
    expect(meiHead(text)).toEqual(NO_HEAD)
  })
})
