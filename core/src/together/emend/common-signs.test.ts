/** A sign of mensuration that is wrong in all voices alike is one slip, proposed and mended as one. */
import { describe, expect, test } from "vitest"
import { type MensurationSign, type Page, type Sign } from "../../page/index.js"
import { fitOf } from "../../score/index.js"
import { readTogether } from "../read-together.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { emend } from "./emend.js"
import { propose } from "./propose.js"

type Turn = (sign: MensurationSign) => MensurationSign

const circle: Turn = sign => ({
  ...sign,
  sign: sign.sign === "O" ? "C" : "O",
  ...(sign.tempus && other(sign, "tempus")),
})
const dot: Turn = ({ dots, ...sign }) => ({
  ...sign,
  ...(!dots && { dots: 1 }),
  ...(sign.prolatio && other(sign, "prolatio")),
})
const words: Turn = ({ sign, dots, ...rest }) => ({
  ...rest,
  tempus: sign === "O" ? 2 : 3,
  prolatio: dots ? 3 : 2,
})
const other = (sign: MensurationSign, level: "tempus" | "prolatio") => ({ [level]: sign[level] === 3 ? 2 : 3 })

const spoiled = (page: Page, turn: Turn): Page => ({
  ...page,
  voices: page.voices.map(voice => ({
    ...voice,
    signs: voice.signs.map((sign): Sign => (sign.kind === "mensuration" ? turn(sign) : sign)),
  })),
})

const TURNS: readonly (readonly [string, "ars-nova" | "white", Turn])[] = [
  ["the circle", "white", circle],
  ["the dot", "white", dot],
  ["what is stated in words", "ars-nova", words],
]

const doMeet = (page: Page): boolean => fitOf(readTogether(page).readings).together

/** The first piece whose voices part by the wrong signs: many a small one goes as well by another tempus. */
function parted(practice: "ars-nova" | "white", turn: Turn): { page: Page; wrong: Page } {
  for (let seed = 9100; ; seed++) {
    const { page } = lawfulPiece(seed, { practice, voices: 2, notes: 20 })
    const wrong = spoiled(page, turn)
    if (!doMeet(wrong)) return { page, wrong }
  }
}

describe("signs that are wrong in all voices alike", () => {
  test.each(TURNS)("%s, %s: the right ones in all voices come first, and mend it", (_, practice, turn) => {
    const durations = (page: Page) => readTogether(page).readings.map(({ duration }) => duration)
    const { page, wrong } = parted(practice, turn)
    const [first] = propose(wrong, { steps: 1 })!.emendations
    expect(first).toMatchObject({ kind: "mensuration-missing", meets: true, also: [{ voice: page.voices[1]!.id }] })
    const made = emend(wrong, first!)
    expect(made.ok && doMeet(made.value.page)).toBe(true)
    expect(made.ok && durations(made.value.page)).toEqual(durations(page))
  })

  test("they are told voice by voice, and the old ones are kept", () => {
    const { page, wrong } = parted("white", circle)
    const [first] = propose(wrong, { steps: 1 })!.emendations
    const labels = page.voices.map(({ label }) => label).join(" and ")
    expect(first!.before).toMatch(new RegExp(`^the (half )?circle.* in ${labels}$`))
    const made = emend(wrong, first!, { who: "ed" })
    expect(made.ok && made.value.page.alternatives.map(({ voice }) => voice)).toEqual(page.voices.map(({ id }) => id))
  })
})

test("where the sign of one voice is wrong, that of this voice is proposed alone", () => {
  const { page } = parted("white", circle)
  const wrong = { ...page, voices: [page.voices[0]!, spoiled(page, circle).voices[1]!] }
  const [first] = propose(wrong, { steps: 1 })!.emendations
  expect(first).toMatchObject({ kind: "mensuration-missing", voice: page.voices[1]!.n })
  expect(first).not.toHaveProperty("also")
})
