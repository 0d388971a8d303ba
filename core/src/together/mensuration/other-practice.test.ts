/** Doubt about the practice, where both that may be meant read most notes alike. */
import { expect, test } from "vitest"
import { parseShorthand } from "../../page/shorthand/index.js"
import { readTogether } from "../read-together.js"
import { readApart } from "./doubts.js"
import type { Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"

function page(text: string): Page {
  const parsed = parseShorthand(text)
  if (!parsed.ok) throw new Error("the shorthand of this test is wrong")
  return parsed.value
}

const MUSIC = (stated: string): Page =>
  page(
    `voice triplum black\n${stated} L c4 B d e L f S g f . e f g . g a L f B e L g B g L a B f e L g a
voice tenor black\n${stated} L c3 d e f g f e d e f`,
  )

test("only what another practice that may be meant reads otherwise is in doubt for it", () => {
  const doubtsOf = (readings: readonly Reading[], level: string): number[] =>
    readings[0]!.signs.flatMap(sign => (sign.level === level && sign.number > 0 ? [sign.doubt] : []))
  const said = MUSIC("mens:modus=3:tempus=3")
  const open = MUSIC("mens:modus=3")
  for (const read of [(one: Page) => readTogether(one).readings, readApart]) {
    const readings = read(said)
    expect(readings[0]!.practice.doubt).toBeGreaterThan(0.1)
    // alone the rules themselves leave two readings of its first longs
    const levels = read !== readApart ? ["longa", "brevis", "semibrevis"] : ["semibrevis"]
    for (const level of levels) expect(Math.max(...doubtsOf(readings, level)), level).toBeLessThan(0.05)
    // if it was written in 1315-25 its breves may hold two: the pairs are measured otherwise
    expect(Math.max(...doubtsOf(read(open), "semibrevis"))).toBeGreaterThan(0.1)
  }
})

test("a cut sign on a page without minims speaks for neither of the older practices", () => {
  const practiceUnder = (sign: string) => readTogether(MUSIC(`${sign}:modus=3:tempus=3`)).readings[0]!.practice
  const plain = readTogether(MUSIC("mens:modus=3:tempus=3")).readings[0]!.practice
  expect(practiceUnder("O|")).toMatchObject({ name: plain.name, doubt: plain.doubt })
  expect(practiceUnder("O").doubt).not.toBe(plain.doubt)
})

test("a proportion, colour and a stated imperfect modus speak for the later of two practices without minims", () => {
  const practiceOf = (text: string) => readTogether(page(text)).readings[0]!.practice
  const [one, two] = ["B c4 d e f L g", "B f e d L c"]
  const plain = practiceOf(`voice tenor black\nmens:tempus=3 ${one} ${two}`)
  const later = [
    `mens:tempus=3 ${one} prop:2 ${two}`,
    `mens:tempus=3 ${one} B red{f e d} L c`,
    `mens:modus=2:tempus=3 ${one} ${two}`,
  ].map(text => practiceOf(`voice tenor black\n${text}`))
  const chance = ({ name, doubt }: typeof plain): number => (name === "ars-nova" ? 1 - doubt / 2 : doubt / 2)
  for (const one of later) expect(chance(one)).toBeGreaterThan(chance(plain) + 0.1)
})
