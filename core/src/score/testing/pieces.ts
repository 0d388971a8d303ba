/** For tests: small invented pieces, each made to show one thing. */
import { ratio } from "../../base/index.js"
import { signsFrom, testPiece, type TestVoice } from "./readings.js"

const perfect = (onset: number) => ({ onset: ratio(onset), tempus: 3 as const, prolatio: 2 as const })
const imperfect = (onset: number) => ({ onset: ratio(onset), tempus: 2 as const, prolatio: 2 as const })

/** Ars antiqua: semibreves by two, three and five, ligatures, a plica with its share of the time, a signature. */
export function oldMotet() {
  const triplum: TestVoice = {
    label: "Triplum",
    unit: "tempus",
    flats: true,
    signs: signsFrom(
      "d4:3|Ve- f4:2|ni e4:1|ver d4:1/3|no- c4:2/3 d4:1/5 e4:1/5 f4:1/5 g4:1/5 a4:1/5 g4:1|vum r:3 bf4:2/3|et a4:1/3 g4:1|can- f4:1|te- e4:6|mus d4:3|hic",
    ),
  }
  const motetus: TestVoice = {
    label: "Motetus",
    unit: "tempus",
    signs: signsFrom("a3:1~ b3:2 c4:3 r:1 a3:2~ g3:1~ f3:2 a3:1/3 b3:1/3 c4:1/3 d4:2 c4:1 b3:1 a3:1 g3:3 a3:3").map(
      (sign, i) =>
        i === 1
          ? {
              ...sign,
              note: { ...sign.note, plica: { direction: "down" as const } },
              plica: { duration: ratio(1, 2), pitch: "a3", certain: true },
            }
          : sign,
    ),
  }
  const tenor: TestVoice = {
    label: "Tenor",
    unit: "tempus",
    signs: signsFrom("d3:3 c3:2~ d3:1 e3:3 r:3 d3:3 c3:6 d3:6"),
  }
  return testPiece([triplum, motetus, tenor], "Veni ver novum (invented)")
}

/** Ars nova: one voice in another mensuration than the others, a change in mid-piece, coloration, a proportion. */
export function threeSigns() {
  const cantus: TestVoice = {
    label: "Cantus",
    mensurations: [perfect(0), { onset: ratio(24), tempus: 2, prolatio: 3 }],
    signs: signsFrom(
      "d4:2 e4:1 f4:1 g4:3 f4:1 e4:1 d4:1 c4:2 d4:1/2 e4:1/2 f4:1 d4:6 f4:2* e4:2* d4:2* c4:6 d4:6 d4:3 e4:3 f4:2 g4:1 a4:6 d4:12",
    ),
  }
  const contratenor: TestVoice = {
    label: "Contratenor",
    mensurations: [imperfect(0)],
    signs: signsFrom("d3:4 f3:2 e3:2 g3:4 a3:4/3* g3:4/3* f3:4/3* e3:8 d3:4 c3:2 d3:6 r:4 d3:2* f3:4 e3:2 d3:4 d3:8"),
  }
  const tenor: TestVoice = {
    label: "Tenor",
    mensurations: [perfect(0), { ...perfect(36), proportion: ratio(3, 2) }],
    signs: signsFrom("d3:6 c3:12 r:6 d3:12 d3:4/3 e3:4/3 f3:4/3 g3:4/3 f3:2/3 e3:2 d3:4 a2:6"),
  }
  return testPiece([cantus, contratenor, tenor], "Three signs (invented)")
}

/** White notation under a stroke that all voices share. */
export function strokeForAll() {
  const stroke = [{ ...imperfect(0), proportion: ratio(2) }]
  const voice = (label: string, signs: string): TestVoice => ({
    label,
    practice: "white",
    mensurations: stroke,
    signs: signsFrom(signs),
  })
  return testPiece(
    [
      voice("Superius", "d4:1|A- f4:1/2|ve e4:1/2 d4:1/4 c4:1/4 d4:1/2 e4:1 f4:2|stel- e4:2|la d4:4|"),
      voice("Bassus", "d3:2|A- a2:1|ve c3:1 d3:2|stel- a2:2|la d3:2|"),
    ],
    "Ave stella (invented)",
  )
}

export const PIECES = { oldMotet, threeSigns, strokeForAll }
