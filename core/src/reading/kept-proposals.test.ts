/** What rules proposed is kept from one voice to the next: no reading may depend on what was read before it. */
import { expect, test } from "vitest"
import { PRACTICES } from "../practices/index.js"
import { readVoice } from "./index.js"
import { LAWFUL_PRACTICES, lawfulVoice } from "./testing/lawful.js"
import { voiceOfLetters } from "./testing/letters.js"

/** The practices as if nothing had ever been read by them: what is kept belongs to one object. */
const fresh = () => ({ practices: PRACTICES.map(practice => ({ ...practice })) })

test.each(LAWFUL_PRACTICES)("a voice reads the same first of all and after many others: %s", practice => {
  const shared = fresh()
  for (let seed = 1; seed <= 40; seed++) {
    const { voice } = lawfulVoice(seed, { practice, notes: 60, careless: 0.5 })
    expect(readVoice(voice, shared)).toEqual(readVoice(voice, fresh()))
  }
})

test("a rule asked once for two places is asked again where anything it may look at differs", () => {
  const shared = { ...fresh(), practice: { name: "white" } }
  const ends = ["B", "L", "S", "-B", "-L", "B .", "M", "S ."]
  for (const before of ends)
    for (const after of ends)
      for (const after2 of ["B", "S .", "L"]) {
        const voice = voiceOfLetters(`B ${before} S S ${after} ${after2} B`, {
          practice: "white",
          divisions: [2, 2, 3, 2],
        })
        expect(readVoice(voice, shared)).toEqual(readVoice(voice, { ...fresh(), practice: { name: "white" } }))
      }
})

test("a scholar's own rule is asked about each surrounding it can tell apart", () => {
  const [white] = PRACTICES.filter(practice => practice.name === "white")
  const seen = new Set<string>()
  const own = {
    ...white!,
    rules: [
      ...white!.rules,
      {
        id: "own",
        sources: [],
        propose: ({ figure, next, second, previous, position }) =>
          void seen.add([previous?.level, figure.level, next?.level, second?.level, position].join()),
      } satisfies (typeof white & {})["rules"][number],
    ],
  }
  const row = "B S S B S M M B S S B S M M B"
  const voice = voiceOfLetters(row, { practice: "white", divisions: [2, 2, 3, 2] })
  readVoice(voice, { practices: [own] })
  const first = new Set(seen)
  expect(first.size).toBeGreaterThan(15)
  readVoice(voiceOfLetters(`${row} M M B`, { practice: "white", divisions: [2, 2, 3, 2] }), { practices: [own] })
  expect([...first].every(one => seen.has(one))).toBe(true)
  expect(seen.size).toBeGreaterThan(first.size)
})
