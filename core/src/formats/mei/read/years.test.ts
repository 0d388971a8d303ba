import { expect, test } from "vitest"
import { readMei } from "../index.js"
import { spanInWords } from "../../../page/index.js"

const file = (head: string): string =>
  `<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead><fileDesc><titleStmt><title/></titleStmt><pubStmt><date isodate="1600">1600</date></pubStmt>${head}</meiHead><music><body><mdiv><score><scoreDef><staffGrp><staffDef n="1" lines="5" notationtype="mensural"/></staffGrp></scoreDef><section><staff n="1"><layer><note dur="longa" pname="c" oct="4"/></layer></staff></section></score></mdiv></body></music></mei>`
const work = (inside: string): string => `</fileDesc><workList><work><title/>${inside}</work></workList>`
const source = (date: string): string => `<sourceDesc><source><bibl>${date}</bibl></source></sourceDesc></fileDesc>`

test.each([
  ["no date but the file's own", "</fileDesc>", undefined],
  ["a year", work("<creation><date>1317</date></creation>"), { made: [1317, 1317] }],
  [
    "attributes before words",
    work('<creation><date notbefore="1315" notafter="1325-06">about then</date></creation>'),
    { made: [1315, 1325] },
  ],
  ["one end alone", work('<creation><date notafter="1325"/></creation>'), { made: [1325, 1325] }],
  ["a history", work("<history><p>sung in <date>1582</date></p></history>"), { made: [1582, 1582] }],
  ["a source", source('<date isodate="1350"/>'), { copied: [1350, 1350] }],
  ["years of the edition are none of the piece", work("<creation><date>1998</date></creation>"), undefined],
  ["the act of making itself", work('<creation isodate="1317">in a town</creation>'), { made: [1317, 1317] }],
  ["the words of its story are no date", work("<creation>before 1317</creation>"), undefined],
  [
    "an end outside the years of mensural notation",
    source('<date notbefore="1500" notafter="1799"/>'),
    {
      copied: [1500, 1650],
    },
  ],
  ["no year", work("<creation><date>long ago</date></creation>"), undefined],
])("%s", (_, head, years) => {
  const read = readMei(file(head))
  expect(read.ok && read.value.page.years).toEqual(years)
})

test.each([
  ["c. 1300", [1290, 1310]],
  ["ca. 1315-25", [1305, 1335]],
  ["1315–1325", [1315, 1325]],
  ["1325/1315", [1315, 1325]],
  ["1398-02", [1398, 1398]],
  ["14th century", [1300, 1399]],
  ["12th century", [1150, 1199]],
  ["c. 1645", [1635, 1650]],
  ["f. 12, 1999", undefined],
  ["11503", undefined],
])("%s", (text, span) => {
  expect(spanInWords(text)).toEqual(span)
})
