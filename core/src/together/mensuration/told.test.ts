/** What readings tell of the mensurations of their voices. */
import { expect, test } from "vitest"
import { parseShorthand } from "../../page/index.js"
import { LAWFUL_PRACTICES, lawfulPiece } from "../testing/lawful-piece.js"
import { readApart } from "./doubts.js"
import { readTogether } from "../read-together.js"

const PERFECT = "B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c B d S e B f S g B a g S f B e "
const IMPERFECT =
  "B d S e f B g S a g f e B d S c d B e f S g a B g S f e d c B d S e f B g S a g B f S e d c d B e S f g B a f "
const TENOR = `voice tenor black practice=ars-nova
clef:C4 O mens:modusmaior=2:modus=2
B c3 d e f g f
`

function pageOf(cantus: string) {
  const read = parseShorthand(`voice cantus black practice=ars-nova\nclef:C1 ${cantus}\n${TENOR}`)
  if (!read.ok) throw new Error(read.problems[0]!.what)
  return read.value
}
const problemsOf = (cantus: string, read = (page: ReturnType<typeof pageOf>) => readTogether(page).readings) =>
  read(pageOf(cantus)).flatMap(one => one.problems.filter(({ code }) => code.includes("mensuration")))

test("a voice that contradicts its sign is told of, whether voices are read together or apart", () => {
  const wrong = `C:id=sign mens:modusmaior=2:modus=2 ${PERFECT}${PERFECT}`
  for (const problems of [problemsOf(wrong), problemsOf(wrong, readApart)]) {
    expect(problems).toMatchObject([{ code: "declared-mensuration-contradicted" }])
    expect(problems[0]!.what).toMatch(/^The notes of cantus contradict its declared imperfect tempus: .+ at \d/)
    expect(problems[0]!.mend).toContain("perfect tempus is meant")
  }
  expect(problemsOf(wrong.replace("C:id", "O:id"))).toEqual([])
})

test.each([
  ["under a sign", "O mens:modusmaior=2:modus=2 "],
  ["without one", ""],
])("so is a mensuration that changes within a voice, %s", (_, sign) => {
  const [problem, ...more] = problemsOf(`${sign}${PERFECT}${PERFECT}${IMPERFECT}${IMPERFECT}${IMPERFECT}`)
  expect(more).toEqual([])
  expect(problem).toMatchObject({ code: "mensuration-left", where: { sign: expect.any(String) } })
  expect(problem!.what).toMatch(
    /^cantus: from \d+ on the notes rather go by .*imperfect tempus.*, though no sign says so\.$/,
  )
  // the perfect tempora are of 29 notes each; the place is found within a few of them
  expect(Math.abs(Number(/from (\d+)/.exec(problem!.what)![1]) - 59)).toBeLessThanOrEqual(4)
  expect(problemsOf(`${sign}${PERFECT}${PERFECT}`)).toEqual([])
})

test("where a sign states the change nothing is told", () => {
  expect(problemsOf(`O ${PERFECT}${PERFECT}C ${IMPERFECT}${IMPERFECT}${IMPERFECT}`)).toEqual([])
})

test("lawful voices under their own signs keep to them", () => {
  const told = LAWFUL_PRACTICES.flatMap(practice =>
    [61, 62, 63].flatMap(seed =>
      readTogether(lawfulPiece(seed, { practice, notes: 80 }).page).readings.flatMap(({ problems }) =>
        problems.filter(({ code }) => code.includes("mensuration")),
      ),
    ),
  )
  expect(told).toEqual([])
})
