/** Passages lost or copied: what is put in or taken out fits into the measure around it. */
import { expect, test } from "vitest"
import { parseShorthand, type Page, type Rest } from "../../page/index.js"
import { signId } from "../../base/index.js"
import { Melody } from "./melody.js"
import { subjectOf } from "./candidates.js"
import { gap } from "./lost-passage.js"
import { coloured, copied, otherSigns } from "./passages.js"
import { NO_OTHER_COLOUR, RUN_CUT_SHORT } from "./weights.js"

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
const fresh = Array.from({ length: 16 }, (_, i) => signId(`new-${i}`))
const subject = (one: Page) => subjectOf(one, one.voices[0]!, fresh, true, new Melody(one.voices))
const MINIM = 64 * 27 * 5 * 7

const PLAIN = page("voice tenor black practice=ars-antiqua\nclef:C4 L a3 B g f L g a B b a L g a")
const spaces = (lasts: number, since: number): string[] => {
  const made = gap(subject(PLAIN), subject(PLAIN).figures[3]!, {
    lasts: lasts * MINIM,
    since: since * MINIM,
    span: undefined,
    inTempora: true,
  })
  return (made?.edit.in ?? []).map(rest => {
    const { num, den } = (rest as Rest).spaces!
    return den === 1 ? String(num) : `${num}/${den}`
  })
}

test("rests for what is lost lie within perfections of three tempora, and within tempora", () => {
  expect(spaces(6, 0)).toEqual(["3", "3"])
  expect(spaces(6, 1)).toEqual(["2", "3", "1"])
  expect(spaces(6, 5)).toEqual(["1", "3", "2"])
  expect(spaces(2 + 1 / 3, 0)).toEqual(["2", "1/3"])
  expect(spaces(1, 1 / 3)).toEqual(["2/3", "1/3"])
})

test("they last as long as what is lost, wherever it begins; what no rest can fill is no gap", () => {
  const value = (text: string): number => {
    const [num, den = 1] = text.split("/").map(Number)
    return num! / den
  }
  for (let since = 0; since < 12; since++)
    for (let lasts = 1; lasts < 24; lasts++) {
      const all = spaces(lasts / 3, since / 3).map(value)
      expect(
        all.reduce((sum, one) => sum + one, 0),
        `${lasts}/3 from ${since}/3 on`,
      ).toBeCloseTo(lasts / 3)
    }
  expect(spaces(1 / 5, 0)).toEqual([])
})

test("what is lost may end within a minim where the page writes semiminims, and not where it does not", () => {
  const lost = { lasts: 2.5 * MINIM, since: MINIM, span: undefined, inTempora: false }
  const restsIn = (music: string): unknown[] => {
    const white = subject(page(`voice cantus white practice=white\nclef:C1 C ${music}`))
    return (gap({ ...white, plain: false }, white.figures[2]!, lost)?.edit.in ?? []).map(rest => (rest as Rest).level)
  }
  expect(restsIn("B g4 S a M b Sm c5 d S b4 B g")).toEqual(["minima", "minima", "semiminima"])
  expect(restsIn("B g4 S a M b c5 S b4 B g")).toEqual([])
})

test("of a passage that stands twice the strokes go too, the line end stays", () => {
  const twice = page(
    "voice tenor black practice=ars-antiqua\nclef:C4 L a3 B g ' f L d B e line:2 L a3 B g ' f L d B e L g a",
  )
  const [longest] = [...copied(subject(twice))].sort((a, b) => b.edit.out.length - a.edit.out.length)
  expect(longest).toBeDefined()
  const { signs } = twice.voices[0]!
  const kinds = longest!.edit.out.map(id => signs.find(sign => sign.id === id)!.kind)
  expect(kinds).toContain("stroke")
  expect(longest!.edit.in.every(sign => sign.kind !== "stroke" && sign.kind !== "note")).toBe(true)
  expect(longest!.extra).toBeLessThan(0)
})

test("colour costs more in a page that has none; and a single note that joins a run more than a run of its own", () => {
  const extras = (music: string) => {
    const white = page(`voice cantus white practice=white\nclef:C1 O ${music}`)
    return [...coloured(subject(white))].map(({ from, to, extra }) => [to - from + 1, extra])
  }
  const without = extras("B g4 a b")
  expect(without).toContainEqual([3, NO_OTHER_COLOUR])
  expect(without.every(([, extra]) => extra === NO_OTHER_COLOUR)).toBe(true)
  const beside = extras("B g4 a b black{B a g} B a")
  expect(beside).toContainEqual([3, 0])
  expect(beside).toContainEqual([1, RUN_CUT_SHORT])
  expect(beside).not.toContainEqual([1, 0])
  expect(Math.min(NO_OTHER_COLOUR, RUN_CUT_SHORT)).toBeGreaterThan(0)
})

test("a sign may have been drawn for another; what it says of the modus stays", () => {
  const one = page("voice cantus white practice=white\nclef:C1 C:modus=3 B a4 b C. S a b O| B c5")
  const found = [...otherSigns(subject(one))]
  const told = found.map(({ sign, edit }) => {
    const [now] = edit.in
    if (now?.kind !== "mensuration") throw new Error("no sign")
    return `${sign} ${now.sign}${now.dots ? "." : ""}${now.strokes ? "|" : ""} ${now.modusMinor ?? ""}`.trim()
  })
  expect(told).toEqual(expect.arrayContaining(["1.2 O 3", "1.2 C. 3", "1.2 C| 3", "1.2 O. 3", "1.5 C", "1.8 O"]))
  expect(told).not.toContain("1.2 C 3")
  expect(told).not.toContain("1.5 C.")
  expect(found.map(({ from }) => from)).toEqual(expect.arrayContaining([0, 2, 4]))
})
