/** Exact places in passages, and that what is written in them is what the reading says. */
import { readdirSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { toNumber } from "../../base/index.js"
import { parseShorthand } from "../../page/shorthand/index.js"
import { countText } from "../../reading/index.js"
import { alignVoices } from "../../score/index.js"
import { readTogether } from "../../together/index.js"
import { drawFigure, figureSize, type FigureAsked } from "../index.js"
import { ownPage } from "./passage.js"
import { inkOf, marksIn, overlap, textsIn, type PlacedMark } from "./testing/marks.js"

const pieceOf = (shorthand: string) => {
  const page = ownPage(shorthand)
  return { page, readings: readTogether(page).readings }
}
const picturesOf = (asked: FigureAsked) => {
  const figure = drawFigure(asked)
  if (!figure.ok) throw new Error(figure.problems[0]!.what)
  return figure.value.pictures
}

// c on the lowest line: g stands four steps above it, a five …
const LINE = `voice cantus black practice=ars-nova
clef:C1 O
B g4 S a B b S a g B f g L e`
const POSITIONS = [4, 5, 6, 5, 4, 3, 4, 2]
const DURATIONS = ["4", "2", "6", "2", "4", "6", "6"]

describe("places in old over new", () => {
  const piece = pieceOf(LINE)
  const { scene } = picturesOf({ kind: "old-over-new", piece })[0]!
  const marks = marksIn(scene)
  const staves = marks.filter(one => one.mark.part === "staff")
  const linesOf = (one: PlacedMark): number[] =>
    one.mark.shape === "strokes"
      ? [...new Set(one.mark.points.filter((_, i) => i % 2 === 1))].sort((a, b) => b - a)
      : []
  const old = staves.find(one => !one.within.includes("modern-staff"))!
  const [bottom, second] = linesOf(old) as [number, number]
  const space = bottom - second
  const offset = old.box.bottom - bottom
  const heads = marks.filter(one => one.mark.part === "head")
  const bands = marks.filter(one => one.mark.part === "band" && one.within.includes("duration"))

  test("five lines, a staff space apart", () => {
    const lines = linesOf(old)
    expect(lines).toHaveLength(5)
    lines.slice(1).forEach((y, i) => expect(lines[i]! - y).toBeCloseTo(space, 9))
  })
  test("heads stand on their pitches", () => {
    expect(heads).toHaveLength(8)
    heads.slice(0, 7).forEach((head, i) => {
      const middle = (head.box.top + head.box.bottom) / 2
      expect((bottom + offset - middle) / space, `note ${i + 1}`).toBeCloseTo(POSITIONS[i]! / 2, 1)
    })
  })
  test("bands begin at their moments and are as long as they last, on one scale", () => {
    const scale = (bands[0]!.box.right - bands[0]!.box.left) / 4
    let at = 0
    DURATIONS.forEach((duration, i) => {
      const { left, right } = bands[i]!.box
      expect(left).toBeCloseTo(bands[0]!.box.left + at * scale, 6)
      expect(right - left).toBeCloseTo(Number(duration) * scale, 6)
      at += Number(duration)
    })
  })
  test("old and modern heads share their left edge, eleven units behind the moment", () => {
    const modern = marks.filter(one => one.mark.part === "modern-head")
    expect(modern).toHaveLength(8)
    modern.forEach((head, i) => {
      expect(head.box.left).toBeCloseTo(heads[i]!.box.left, 0)
      expect(heads[i]!.box.left).toBeCloseTo(bands[i]!.box.left + 11, 0)
    })
  })
  test("bars of the modern staff and perfections stand together", () => {
    const grounds = marks.filter(one => one.mark.part === "perfection").map(one => one.box.left)
    const bars = marks.filter(one => one.mark.part === "bar-line").map(one => (one.box.left + one.box.right) / 2)
    for (const left of grounds) expect(Math.min(...bars.map(bar => Math.abs(bar - left)))).toBeLessThan(3)
  })
  test("the rest of a perfection in which the passage begins has no sum", () => {
    const { scene: part } = picturesOf({ kind: "old-over-new", piece, part: { from: { num: 4, den: 1 } } })[0]!
    const sums = textsIn(marksIn(part)).filter(one => one.mark.part === "sum")
    expect(sums.map(one => one.mark.text)).toEqual(["6", "2 + 4 = 6", "6", "6"])
  })
  test("sums, few words and sentence", () => {
    const texts = textsIn(marks).map(one => one.mark.text)
    expect(texts.filter(text => /^[\d +=]+$/.test(text) && text.includes("="))).toEqual(["4 + 2 = 6", "2 + 4 = 6"])
    expect(texts).toEqual(expect.arrayContaining(["gives its last third", "stays whole", "doubled", "¶ cantus 5"]))
    expect(texts.join(" ")).toContain("Two semibreves stand before a breve. The second is doubled")
    expect(texts.join(" ")).toContain("Libellus cantus mensurabilis, c. 1340, 4")
  })
})

const demo = new URL("../../../../demo/", import.meta.url)
const demos = readdirSync(demo).filter(name => name.endsWith(".figurae"))

describe.each(demos)("%s", name => {
  const page = parseShorthand(readFileSync(new URL(name, demo), "utf8"))
  if (!page.ok) throw new Error(name)
  const { readings } = readTogether(page.value)
  const piece = { page: page.value, readings }
  const read = new Map(readings.flatMap(one => one.signs.map(sign => [sign.id as string, sign])))
  const { voices } = alignVoices(page.value, readings)
  /** How long a sign sounds, each time that it does: a voice may be sung again in other values. */
  const sung = (sign: string) =>
    voices.flatMap(({ events }) =>
      events.filter(one => one.sign === sign || one.id === sign).map(one => countText(one.duration)),
    )

  test.each(readings.map(one => one.n))("voice %s: every count is the reading's, and every sign is there", n => {
    const pictures = picturesOf({ kind: "old-over-new", piece, part: { voices: [n] } })
    const marks = pictures.flatMap(({ scene }) => marksIn(scene))
    const counts = marks.filter(one => one.mark.part === "count" && one.within.includes("duration"))
    for (const { mark, signs } of counts) {
      const id = signs.at(-1)!
      const lengths = [read.get(id)?.duration].filter(one => one !== undefined).map(countText)
      if (mark.shape === "text" && mark.text !== "held") expect([...lengths, ...sung(id)]).toContain(mark.text)
    }
    const own = readings.find(one => one.n === n)!
    const shown = new Set(marks.filter(one => one.within.includes("duration")).map(one => one.signs.at(-1)))
    expect(own.signs.filter(one => one.number > 0 && !shown.has(one.id)).map(one => one.id)).toEqual([])
    const total = marks
      .filter(one => one.mark.part === "sum")
      .map(one => (one.mark.shape === "text" ? one.mark.text : ""))
    for (const text of total) expect(evaluated(text), text).toBe(true)
  })
  test("all voices together, in as few pictures as it takes", () => {
    const pictures = picturesOf({ kind: "old-over-new", piece, select: null })
    expect(pictures.length).toBeGreaterThan(0)
    expect(pictures.length).toBeLessThan(41)
  })
})

describe("voices too many for one picture with modern staves", () => {
  const page = parseShorthand(readFileSync(new URL("6-proportion-coloration.figurae", demo), "utf8"))
  if (!page.ok) throw new Error("demo")
  const piece = { page: page.value, readings: readTogether(page.value).readings }

  describe.each(["1920x1080", "1280x720", "square"])("in %s", name => {
    const figure = drawFigure({ kind: "old-over-new", piece, select: null, size: figureSize(name)! })
    if (!figure.ok) throw new Error(figure.problems[0]!.what)
    const { pictures, words, made } = figure.value
    const seen = pictures.map(({ scene }) => marksIn(scene))
    const bandsOf = (marks: readonly PlacedMark[]) =>
      marks.filter(one => one.mark.part === "band" && one.within.includes("duration"))
    const voiceOf = (id: string) => piece.readings.findIndex(one => one.signs.some(sign => sign.id === id))
    const voicesIn = (marks: readonly PlacedMark[]) =>
      [...new Set(bandsOf(marks).map(one => voiceOf(one.signs.at(-1)!)))].sort((a, b) => a - b)

    test("stand two and two, each with a modern staff, and it is said so", () => {
      expect(made).toBe(
        "One picture has no room for all voices with modern staves: each stretch of time stands in 2, cantus and altus; tenor and bassus.",
      )
      expect(pictures.length % 2).toBe(0)
      seen.forEach((marks, i) => {
        expect(voicesIn(marks)).toEqual(i % 2 === 0 ? [0, 1] : [2, 3])
        expect(marks.some(one => one.within.includes("modern-staff"))).toBe(true)
      })
    })
    test("both of a stretch of time have one scale", () => {
      const ends = (marks: readonly PlacedMark[]) =>
        [
          Math.min(...bandsOf(marks).map(one => one.box.left)),
          Math.max(...bandsOf(marks).map(one => one.box.right)),
        ].map(Math.round)
      const spans = seen.map(ends)
      const width = (i: number) => spans[i]![1]! - spans[i]![0]!
      for (let i = 0; i < spans.length; i += 2) expect(Math.abs(width(i) - width(i + 1))).toBeLessThan(2)
    })
    test("no sign is missing, and the last pictures hold more than the final", () => {
      const shown = new Set(seen.flatMap(bandsOf).map(one => one.signs.at(-1)))
      const all = piece.readings.flatMap(one => one.signs).filter(one => one.number > 0)
      expect(all.filter(one => !shown.has(one.id)).map(one => one.id)).toEqual([])
      for (const marks of seen.slice(-2)) expect(bandsOf(marks).length).toBeGreaterThan(4)
    })
    test("each tells its voices and its time in caption and words, and where the others stand", () => {
      const half = pictures.length / 2
      pictures.forEach(({ scene }, i) => {
        const [own, others] =
          i % 2 === 0 ? ["cantus and altus", "tenor and bassus"] : ["tenor and bassus", "cantus and altus"]
        const place = new RegExp(
          `^Part ${(i >> 1) + 1} of ${half}: ${own}, minims \\d+ to \\d+\\. The same stretch of time in ${others}: picture ${(i ^ 1) + 1}\\.`,
        )
        expect(scene.description).toMatch(place)
        expect(words).toContain(`Picture ${i + 1}: ${scene.description}`)
        const caption = textsIn(seen[i]!).filter(one => one.mark.part === "source")
        expect(caption.map(one => one.mark.text).join(" ")).toMatch(place)
      })
    })
  })
  test("one that stands alone has its name", () => {
    const three = picturesOf({ kind: "old-over-new", piece, select: null, part: { voices: ["1", "2", "3"] } })
    const names = three.map(({ scene }) =>
      textsIn(marksIn(scene)).flatMap(one => (one.mark.part === "rubric" ? [one.mark.text] : [])),
    )
    expect(names.slice(0, 2)).toEqual([["cantus", "altus"], ["tenor"]])
  })
  test("two of them have room together, and nothing is said of it", () => {
    const figure = drawFigure({ kind: "old-over-new", piece, select: null, part: { voices: ["cantus", "tenor"] } })
    expect(figure.ok && figure.value.made).toBeUndefined()
  })
})

/** "4 + 2 = 6" is true. */
function evaluated(text: string): boolean {
  const value = (one: string) =>
    [...one.trim()].reduce((sum, letter) => sum + (VULGAR[letter] ?? 0), Number.parseInt(one, 10) || 0)
  const [terms, total] = text.split("=")
  return (
    total === undefined || Math.abs(terms!.split("+").reduce((sum, one) => sum + value(one), 0) - value(total)) < 1e-9
  )
}
const VULGAR: Readonly<Record<string, number>> = { "½": 1 / 2, "⅓": 1 / 3, "⅔": 2 / 3, "¼": 1 / 4, "¾": 3 / 4 }

describe("a part of a piece", () => {
  const page = parseShorthand(readFileSync(new URL("5-changing-signs.figurae", demo), "utf8"))
  if (!page.ok) throw new Error("demo")
  const piece = { page: page.value, readings: readTogether(page.value).readings }
  const shown = (asked: Partial<FigureAsked>) =>
    picturesOf({ kind: "old-over-new", piece, ...asked }).flatMap(({ scene }) =>
      marksIn(scene)
        .filter(one => one.mark.part === "band")
        .map(one => one.signs.at(-1)),
    )
  test("holds what sounds in it and nothing else", () => {
    const tenor = piece.readings[2]!
    const inside = tenor.signs.filter(
      one => one.number > 0 && toNumber(one.onset) + toNumber(one.duration) > 24 && toNumber(one.onset) < 48,
    )
    const found = shown({ part: { from: { num: 24, den: 1 }, to: { num: 48, den: 1 }, voices: ["tenor"] } })
    expect(new Set(found)).toEqual(new Set(inside.map(one => one.id)))
  })
  test("a headline about one sign stands over its picture alone; one that was asked for over all", () => {
    const select = piece.readings[2]!.signs.find(one => one.rule === "alteratio")!.id
    const headlines = (more: Partial<FigureAsked>) =>
      picturesOf({ kind: "old-over-new", piece, select, ...more }).map(({ scene }) => {
        const marks = marksIn(scene)
        const said = textsIn(marks).filter(one => one.mark.part === "headline")
        return [marks.some(one => one.mark.part === "cartouche"), said.map(one => one.mark.text).join(" ")]
      })
    const own = headlines({})
    expect(own.length).toBeGreaterThan(2)
    for (const [isAsked, said] of own)
      expect(said).toBe(isAsked ? "A semibreve of four minims, not two" : "Les trois orloges")
    expect(own.filter(([isAsked]) => isAsked)).toHaveLength(1)
    for (const [, said] of headlines({ title: "Alteration" })) expect(said).toBe("Alteration")
  })
  test("a sign that is asked about has its frame, the others none", () => {
    const id = piece.readings[2]!.signs.find(one => one.rule === "alteratio")!.id
    const pictures = picturesOf({ kind: "old-over-new", piece, select: id, part: { voices: ["tenor"] } })
    const frames = pictures.flatMap(({ scene }) => marksIn(scene).filter(one => one.mark.part === "cartouche"))
    expect(frames).toHaveLength(1)
    const none = picturesOf({ kind: "old-over-new", piece, select: null, part: { voices: ["tenor"] } })
    expect(none.flatMap(({ scene }) => marksIn(scene).filter(one => one.mark.stroke?.role === "blue"))).toEqual([])
  })
})

test("a series of steps has the words under the notes, in every picture and on the sheet", () => {
  const piece = pieceOf(`${LINE}\n> Stel -- la ma -- ris lu -- ce ve -- ni`)
  for (const { number, scene } of picturesOf({ kind: "step-series", piece })) {
    const syllables = marksIn(scene).filter(one => one.mark.part === "syllable")
    expect([number, syllables.map(({ mark }) => (mark.shape === "text" ? mark.text : ""))]).toEqual([
      number,
      ["Stel", "la", "ma", "ris", "lu", "ce", "ve", "ni"],
    ])
  }
})

test("on the sheet of steps no pillar runs through a sum over several perfections", () => {
  const piece = pieceOf("voice a black practice=ars-nova\nclef:C1 O.\nS c5 d e B f S e rS B d S d M c S d c L c\n")
  const marks = marksIn(picturesOf({ kind: "step-series", piece }).at(-1)!.scene)
  const sums = textsIn(marks).filter(({ mark }) => mark.part === "sum")
  const pillars = marks.flatMap(({ mark, box, scale }) => {
    if (mark.shape !== "strokes" || mark.part !== "pillar") return []
    const [xs, ys] = [0, 1].map(odd => [...mark.points].filter((_, i) => i % 2 === odd)) as [number[], number[]]
    const at = (x: number) => box.left + (x - Math.min(...xs)) * scale
    const foot = (y: number) => box.top + (y - Math.min(...ys)) * scale
    return xs.map((x, i) => ({ x: at(x), foot: foot(ys[i]!) }))
  })
  expect(sums.some(({ mark }) => mark.text.includes("×"))).toBe(true)
  expect(pillars.length).toBeGreaterThan(4)
  const met = sums.filter(({ box }) => pillars.some(({ x, foot }) => x > box.left && x < box.right && foot > box.top))
  expect(met.map(({ mark }) => mark.text)).toEqual([])
})

describe.each(["1920x1080", "square", "vertical", "a4", "half-column"])("steps in %s", name => {
  const size = figureSize(name)!
  const steps = picturesOf({ kind: "step-series", size }).filter(one => one.number !== "")
  const keyOf = ({ mark, box, signs }: PlacedMark) =>
    JSON.stringify([
      mark.part,
      mark.shape === "text" ? mark.text : "",
      signs,
      Object.values(box).map(v => Math.round(v * 100)),
    ])
  const seen = steps.map(({ scene }) => new Set(marksIn(scene).map(keyOf)))

  test("five pictures, each with all of the one before at the same places", () => {
    expect(steps.map(one => one.number)).toEqual(["1", "2", "3", "4", "5"])
    seen.slice(1).forEach((now, i) => expect([...seen[i]!].filter(key => !now.has(key))).toEqual([]))
    for (const [i, now] of seen.entries()) if (i > 0) expect(now.size).toBeGreaterThan(seen[i - 1]!.size)
  })
  test("bands come when their length is found", () => {
    const bands = steps.map(
      ({ scene }) =>
        marksIn(scene).filter(one => /band$/.test(one.mark.part) && one.within.includes("duration")).length,
    )
    // three that stay whole; two that give a third with those who take it; one doubled with its partner; the final
    expect(bands).toEqual([0, 3, 7, 9, 10])
  })
  test("no tick stands where there is no band", () => {
    const ticks = steps.map(({ scene }) => marksIn(scene).filter(one => one.mark.part === "tick").length)
    expect(ticks).toEqual([0, 0, 0, 0, ticks[4]])
  })
})

describe("lines of causes", () => {
  test.each(["", "\n> a b c d e f"])("have room under the lowest notes%s", words => {
    const piece = pieceOf(`voice cantus black practice=ars-nova\nclef:C1 O\nB a3 S g S f B g3 f L a${words}\n`)
    const select = piece.page.voices[0]!.signs.filter(({ kind }) => kind === "note")[2]!.id
    const marks = picturesOf({ kind: "old-over-new", piece, select }).flatMap(({ scene }) => marksIn(scene))
    const [arrow] = marks.filter(({ mark }) => mark.part === "effect")
    const lane = Math.max(...marks.filter(({ mark }) => mark.part === "because").map(({ box }) => box.bottom))
    const bands = Math.min(...marks.filter(({ mark }) => mark.part === "band").map(({ box }) => box.top))
    const beads = marks.filter(({ mark }) => mark.part === "cause")
    expect(beads).toHaveLength(2)
    for (const { box } of [arrow!, ...beads]) expect(lane - box.bottom).toBeGreaterThan(2)
    expect(bands - lane).toBeGreaterThan(5)
  })
  // the lowest note, c, is cause and asked about too
  const SUNG = `voice cantus black practice=ars-nova
clef:C1 O
B g4 S c B c S g c B c L e
> Fons in hor- to si- len- ti`
  test.each([1, 5, 3])("go through no syllable: cantus %d", n => {
    const piece = pieceOf(SUNG)
    const select = piece.page.voices[0]!.signs.filter(({ kind }) => kind === "note")[n - 1]!.id
    const marks = picturesOf({ kind: "old-over-new", piece, select }).flatMap(({ scene }) => marksIn(scene))
    const syllables = textsIn(marks).filter(({ mark }) => mark.part === "syllable")
    const lines = marks.filter(({ mark }) => mark.part === "because")
    expect(syllables).toHaveLength(7)
    expect(lines.length).toBeGreaterThan(0)
    const met = lines.flatMap(({ box }) =>
      syllables.filter(one => overlap(inkOf(one), box) > 0).map(({ mark }) => mark.text),
    )
    expect(met).toEqual([])
  })
})
