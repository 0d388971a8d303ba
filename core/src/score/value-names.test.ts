import { fromText, ratio } from "../base/index.js"
import { expect, test } from "vitest"
import { modernName, unitInWholes } from "./value-names.js"

test.each([
  // whole notes   as a player would say it
  ["1/4", "quarter"],
  ["3/8", "dotted quarter"],
  ["3/4", "dotted half"],
  ["5/8", "half + eighth"],
  ["9/8", "dotted half + dotted quarter"],
  ["9/4", "dotted whole + dotted half"],
  ["7/8", "dotted half + eighth"],
  ["5/4", "whole + quarter"],
  ["1/6", "quarter of a triplet"],
  ["1/12", "eighth of a triplet"],
  ["2/7", "2/7 of a whole note"],
  ["3", "dotted breve"],
  ["0", "—"],
])("%s of a whole note is a %s", (wholes, name) => {
  expect(modernName(fromText(wholes) ?? ratio(99))).toBe(name)
})

test("the usual reduction depends on the practice", () => {
  expect(unitInWholes("ars-antiqua", "tempus")).toEqual(ratio(1, 4))
  expect(unitInWholes("ars-nova", "minima")).toEqual(ratio(1, 8))
  expect(unitInWholes("white", "minima")).toEqual(ratio(1, 4))
})
