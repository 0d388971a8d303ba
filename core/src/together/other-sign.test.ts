/** Signs under which a voice misses the others, and would meet them under another. */
import { expect, test } from "vitest"
import type { MensurationSign, Page, Sign } from "../page/index.js"
import { readTogether } from "./read-together.js"
import { lawfulPiece } from "./testing/lawful-piece.js"

const isSign = (sign: Sign): sign is MensurationSign => sign.kind === "mensuration"
const inVoice = (page: Page, at: number, change: (signs: readonly Sign[]) => readonly Sign[]): Page => ({
  ...page,
  voices: page.voices.map((voice, v) => (v === at ? { ...voice, signs: change(voice.signs) } : voice)),
})
/** One voice under the other tempus. */
const wrong = (page: Page, at: number): Page =>
  inVoice(page, at, signs =>
    signs.map((sign): Sign => {
      if (!isSign(sign)) return sign
      const { sign: _, dots: __, ...kept } = sign
      return { ...kept, tempus: sign.tempus === 3 ? 2 : 3 }
    }),
  )
const told = (page: Page): string[] =>
  readTogether(page).readings.flatMap(({ label, problems }) =>
    problems.flatMap(({ code, what, where }) =>
      code === "declared-mensuration-misses" ? [`${label}, ${where?.sign ? "at its sign" : "nowhere"}: ${what}`] : [],
    ),
  )
const signOf = (page: Page, at: number): MensurationSign => page.voices[at]!.signs.find(isSign)!

const SEEDS = [925000, 925001, 925002, 925003, 925004, 925005]
const pieces = SEEDS.map(seed => ({
  at: (seed - SEEDS[0]!) % 3,
  seed,
  ...lawfulPiece(seed, { practice: "white", notes: 60 }),
}))
const plain = pieces.filter(({ page, at }) => signOf(page, at).strokes === undefined)

test("most voices under a wrong tempus are told, and no other voice", () => {
  const found = plain.map(({ page, at }) => told(wrong(page, at)))
  expect(found.filter(own => own.length > 0).length).toBeGreaterThanOrEqual(plain.length - 1)
  plain.forEach(({ page, at }, i) => {
    const { label } = page.voices[at]!
    const [was, is] = signOf(page, at).tempus === 3 ? ["imperfect", "perfect"] : ["perfect", "imperfect"]
    for (const one of found[i]!)
      expect(one).toBe(
        `${label}, at its sign: Under its declared ${was} tempus ${label} does not meet the others; under ${is} tempus it would.`,
      )
  })
})

test("nothing is told where the signs are right, nor where a note was left out", () => {
  const chance = { at: 1, seed: 926019, ...lawfulPiece(926019, { practice: "white", notes: 60 }) }
  for (const { page, at, seed } of [...plain, chance]) {
    const notes = page.voices[at]!.signs.filter(sign => sign.kind === "note")
    const lost = notes[(7 * seed) % notes.length]
    expect(told(page)).toEqual([])
    expect(told(inVoice(page, at, signs => signs.filter(sign => sign !== lost)))).toEqual([])
  }
})
