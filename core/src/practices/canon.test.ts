import { describe, expect, test } from "vitest"
import { fromText } from "../base/index.js"
import { canonRatio } from "./canon.js"

/** All levels perfect but the modus maior. */
const PERFECT = { modusMaior: 2, modusMinor: 3, tempus: 3, prolatio: 3 } as const
const IMPERFECT = { modusMaior: 2, modusMinor: 2, tempus: 2, prolatio: 2 } as const

describe("an inscription divides the written durations", () => {
  test.each([
    // inscription                 by
    ["Canon: crescit in duplo", "1/2"],
    ["in duplo", "1/2"],
    ["Tenor crescit in triplum", "1/3"],
    ["crescit in quadruplo", "1/4"],
    ["decrescit in duplo", "2"],
    ["diminuitur in triplo", "3"],
    ["AD MEDIUM", "2"],
    ["per semi", "2"],
    ["per medietatem", "2"],
    ["Tenor dicitur per diminutionem", "2"],
    ["Brevis sit longa", "1/2"],
    ["maxima sit longa", "2"],
    ["semibrevis sit minima", "2"],
    ["longa est semibrevis", "4"],
    ["longa sit longa", "1"],
  ])("%s: by %s", (text, by) => {
    expect(canonRatio(text, IMPERFECT)).toEqual(fromText(by))
  })
  test.each([
    // each keeps its quality: a longa of three breves becomes a breve of three semibreves
    ["longa sit brevis", "3"],
    ["maxima sit longa", "3"],
    ["maxima sit brevis", "9"],
    ["semibrevis sit minima", "2"],
    ["brevis sit longa", "1/3"],
  ])("%s, where all is perfect: by %s", (text, by) => {
    expect(canonRatio(text, PERFECT)).toEqual(fromText(by))
  })
  test.each([
    "",
    "canite ut prius",
    "in epidiapente",
    "duo in uno",
    "triplum",
    "fuga cum triplo",
    "maxima longa brevis",
  ])("“%s” says nothing of it", text => {
    expect(canonRatio(text, IMPERFECT)).toBeUndefined()
  })
})
