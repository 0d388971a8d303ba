/** Invented motets in which a voice leaves its modus for six breves and nothing says so. */
import { describe, expect, test } from "vitest"
import { readMei } from "../formats/mei/index.js"
import { readTogether } from "./index.js"
import { motet } from "./testing/motets/compose.js"
import { measured } from "./testing/motets/measured.js"
import { meiOf } from "./testing/motets/mei.js"

const DEPARTS = ["departs"] as const

function problemsOf(seed: number, repertory: "c1320" | "c1350", features: readonly "departs"[]): string[] {
  const document = readMei(meiOf(motet(seed, repertory, 36, new Set(features)), { seed, named: true }))
  if (!document.ok) throw new Error("the file of this test is wrong")
  const { readings } = readTogether(document.value.page)
  return readings.flatMap(({ label, problems, signs }) =>
    problems
      .filter(one => one.code === "modus-left")
      .map(({ where }) => `${label} ${signs.find(sign => sign.id === where?.sign)!.number}`),
  )
}

describe.each([
  [8002, "c1350", "motetus 9"],
  [8003, "c1350", "triplum 24"],
  [8016, "c1320", "motetus 27"],
  [8024, "c1320", "triplum 23"],
] as const)("motet %i of %s", (seed, repertory, place) => {
  test("is read as it is meant, and the place is told", () => {
    const { wrong, meets } = measured(seed, repertory, { breves: 36, features: DEPARTS })
    expect([meets, wrong]).toEqual([true, 0])
    expect(problemsOf(seed, repertory, DEPARTS)).toEqual([place])
  })
})

test("nothing of the kind is found where no voice does so", () => {
  for (const seed of [8002, 8003, 8016, 8024])
    for (const repertory of ["c1320", "c1350"] as const) expect(problemsOf(seed, repertory, [])).toEqual([])
})
