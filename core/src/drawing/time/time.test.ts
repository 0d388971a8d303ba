import { readdirSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { ratio } from "../../base/index.js"
import { everySign, findSign, type Page } from "../../page/index.js"
import { lawfulPiece } from "../../together/testing/lawful-piece.js"
import type { Box, Scene } from "../scene/scene.js"
import { toSvg } from "../scene/svg.js"
import { markBox } from "../signs/index.js"
import { hatchPoints, hatchSpacing, plusArm } from "./bands.js"
import { drawTime, drawTimeSheets, layTime } from "./index.js"
import { bands, everything, inputOf, marksOf, pageOf, parts, timeOf } from "./testing/drawn.js"

const TWO = `title: Duo
voice cantus black practice=ars-nova
clef:C1 O
B c5 S d B e S c d e L c
voice tenor black practice=ars-nova
clef:C4 O
B c4 c c L c
`
const demo = (name: string): Page =>
  pageOf(readFileSync(new URL(`../../../../demo/${name}.figurae`, import.meta.url), "utf8"))
const DEMOS = readdirSync(new URL("../../../../demo/", import.meta.url))
  .filter(name => name.endsWith(".figurae"))
  .map(name => name.replace(/\.figurae$/, ""))

const linesIn = (points: readonly number[]) => points.filter((_, i) => i % 4 === 0)
const idOf = (page: Page, place: string) => findSign(page, place)!.id

describe("exact time", () => {
  test("a band begins on its moment and is as long as its duration", () => {
    const scene = timeOf(TWO)
    const all = bands(scene)
    const [first, second] = all
    const scale = first!.width / 4
    expect([first!.duration, second!.onset, second!.duration]).toEqual(["4", "4", "2"])
    for (const { x, width, onset, duration } of all) {
      expect(x).toBeCloseTo(first!.x + Number(onset) * scale, 6)
      expect(width).toBeCloseTo(Number(duration) * scale, 6)
    }
  })
  test.each(DEMOS)("of %s all systems have one scale of time, whatever the width", name => {
    const input = inputOf(demo(name))
    for (const width of [1920, 1600]) {
      const scales = layTime(input, { width }).systems.map(({ axis }) => axis.scale)
      for (const scale of scales) expect(scale).toBeCloseTo(scales[0]!, 9)
    }
  })
  test("what an editor supplied is in second ink between brackets: notes, rests, dots", () => {
    const text = TWO.replace("S d B e", "S d:supplied B e . :supplied rB:supplied")
    for (const compact of [false, true]) {
      const scene = timeOf(text, { compact })
      expect(parts(scene, "editor")).toHaveLength(6)
      const dot = parts(scene, "dot").flatMap(({ item }) => (item.shape === "group" ? item.content : []))
      expect(dot.some(mark => mark.shape !== "group" && mark.fill === "second")).toBe(true)
    }
  })
  test("and so are signs of mensuration and proportion, with what they say; the scribe's stay red", () => {
    const text = "voice a black practice=ars-nova\nclef:C1 O:within:supplied\nB c4 c prop:3/2:supplied B d c C B c\n"
    const scene = timeOf(text)
    expect(parts(scene, "editor")).toHaveLength(2)
    const said = parts(scene, "measured").flatMap(({ item }) =>
      item.shape === "text" ? [`${item.text} ${item.fill}`] : [],
    )
    expect(said).toEqual(["3 × 2 second", "[3/2] second", expect.stringMatching(/^2 × 2.* red$/)])
  })
  test("the echo of a void note of a ligature is void, that of a coloured one full", () => {
    const text = "voice a white practice=white\nclef:C1 C\nB c4 [d4/down(left) c] black{[d/down(left) c]} L d\n"
    const [plain, coloured] = parts(timeOf(text), "echo").map(({ item }) => (item.shape === "path" ? item.path : []))
    const outlines = (path: readonly (readonly unknown[])[] = []) => path.filter(([command]) => command === "M").length
    expect([outlines(plain), outlines(coloured)]).toEqual([2, 1])
  })
  test("every head stands the same distance after its moment", () => {
    const page = demo("5-changing-signs")
    const scene = drawTime(inputOf(page), { width: 9000, size: 1 })
    const begins = new Map(bands(scene).map(({ id, x }) => [id, x]))
    const after = everything(scene.content).flatMap(({ item, around, x, scale }) => {
      const sign = around.findLast(group => group.part === "note")?.sign
      if (item.part !== "head" || item.shape !== "path" || sign === undefined || !begins.has(sign)) return []
      return [
        Math.round((x + markBox({ ...item, path: item.path.slice(0, 6) }).left * scale - begins.get(sign)!) * 10) / 10,
      ]
    })
    expect(after.length).toBeGreaterThan(80)
    expect(new Set(after)).toEqual(new Set([9]))
  })
  test("perfections are ruled for each voice, and dotted where breves divide in two", () => {
    const scene = timeOf(
      "voice a black practice=ars-nova\nclef:C1 O\nB c5 c c L c\nvoice b black practice=ars-nova\nclef:C3 C\nB c4 d d d e f L c",
    )
    const pillars = parts(scene, "pillar").flatMap(({ item }) => (item.shape === "strokes" ? [item] : []))
    const [x] = bands(scene).map(one => one.x)
    const scale = bands(scene)[0]!.width / 6
    const moments = pillars.map(({ points, stroke }) => ({
      dotted: stroke?.dash !== undefined,
      at: linesIn(points).map(at => Math.round(((at - x!) / scale) * 1000) / 1000),
    }))
    expect(moments).toContainEqual({ dotted: false, at: [6, 12] })
    expect(moments.filter(one => one.dotted).map(one => one.at)).toEqual([[4, 8, 12, 16, 20]])
  })
})

describe("every sign is drawn once with its id", () => {
  test.each(DEMOS)("%s", name => {
    const page = demo(name)
    const svg = toSvg(drawTime(inputOf(page)))
    const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map(found => found[1])
    expect(new Set(ids).size).toBe(ids.length)
    const drawn = page.voices.flatMap(voice =>
      [...everySign(voice.signs)].filter(sign => !["break", "comment", "other", "custos"].includes(sign.kind)),
    )
    const silent = (sign: (typeof drawn)[number]) =>
      sign.kind === "mensuration" &&
      sign.sign === undefined &&
      !sign.letter &&
      page.voices.every(one => one.practice?.name === "ars-antiqua")
    expect(drawn.filter(sign => !silent(sign) && !svg.includes(`data-sign="${sign.id}"`)).map(sign => sign.id)).toEqual(
      [],
    )
  })
  test("the same input gives the same picture", () => {
    const input = inputOf(demo("1-ordo-tenor"))
    expect(toSvg(drawTime(input))).toBe(toSvg(drawTime(input)))
  })
})

describe("written at once", () => {
  const kept = (scene: Scene): Scene => ({
    ...scene,
    content: scene.content.map(item => {
      if (item.shape !== "group") return item
      const { part, y, content } = item
      return { shape: "group", content, ...(part ? { part } : {}), ...(y === undefined ? {} : { y }) }
    }),
  })
  test.each(DEMOS)("demo %s is the same text as when all of it is kept before", name => {
    const input = inputOf(demo(name))
    const note = [...everySign(input.page.voices[0]!.signs)].find(({ kind }) => kind === "note")!.id
    for (const options of [{}, { compact: true }, { width: 700 }, { select: note, lanes: true }]) {
      const scene = drawTime(input, options)
      expect(scene.content.filter(item => "draw" in item).length).toBeGreaterThan(0)
      for (const outline of [undefined, () => undefined])
        expect(toSvg(scene, outline ? { outline } : {}) === toSvg(kept(scene), outline ? { outline } : {})).toBe(true)
    }
  })
})

describe("what was given and taken", () => {
  test("an imperfect breve has a sleeve of six minims, broken over the last two", () => {
    const page = pageOf(TWO)
    const scene = drawTime(inputOf(page))
    const sleeve = parts(scene, "sleeve").find(
      ({ item }) => item.shape === "group" && item.sign === idOf(page, "cantus 1"),
    )
    const content = sleeve!.item.shape === "group" ? sleeve!.item.content : []
    const reach = (part: string) => {
      const mark = content.find(one => one.part === part)
      const box = mark?.shape === "strokes" ? markBox(mark) : undefined
      return box && [box.left, box.right]
    }
    const [band] = bands(scene)
    const scale = band!.width / 4
    expect(reach("kept")![1]).toBeCloseTo(band!.x + 4 * scale, 6)
    expect(reach("given")![0]).toBeCloseTo(band!.x + 4 * scale, 6)
    expect(reach("given")![1]).toBeCloseTo(band!.x + 6 * scale, -1)
    expect(content.find(one => one.part === "given")).toHaveProperty("stroke.dash")
  })
  test("an altered note has a frame over its second half", () => {
    const page = demo("5-changing-signs")
    const scene = drawTime(inputOf(page))
    const gains = parts(scene, "gain").map(({ around }) => around.findLast(group => group.part === "duration")!)
    expect(gains.length).toBeGreaterThan(0)
    for (const { content } of gains) {
      const [band, gain] = ["band", "gain"].map(part => content.find(one => one.part === part))
      if (band?.shape !== "rect" || gain?.shape !== "rect") throw new Error("no frame")
      expect(gain.x).toBeGreaterThan(band.x + band.width / 2)
      expect(gain.x + gain.width).toBeLessThan(band.x + band.width)
    }
  })
  test("a final is held: its band has a torn end and no count", () => {
    const scene = timeOf(TWO)
    const held = parts(scene, "count").filter(({ item }) => item.shape === "text" && item.text === "held")
    expect(held).toHaveLength(2)
    expect(parts(scene, "band").filter(({ item }) => item.shape === "polygon")).toHaveLength(2)
  })
})

describe("doubt", () => {
  test("hatching: 7 px at even odds, 14 at a quarter, none under a twentieth", () => {
    expect([1, 0.5, 0.25, 0.049].map(doubt => hatchSpacing(doubt, { size: 1 }))).toEqual([7, 14, 28, undefined])
  })
  test("the lines are so far apart, and within the band", () => {
    const points = hatchPoints(100, 200, 0, 32, 14)
    const feet = points.flatMap((x, i) => (i % 4 === 2 ? [x - (32 - points[i + 1]!)] : []))
    for (let i = 1; i < feet.length; i++) expect(feet[i]! - feet[i - 1]!).toBeCloseTo(14, 6)
    const box = markBox({ shape: "strokes", part: "doubt", points })
    expect([box.left >= 100, box.right <= 200, box.top >= 0, box.bottom <= 32]).toEqual([true, true, true, true])
  })
  test("a dot before a pillar is not hidden by it", () => {
    const text = "voice a black practice=ars-nova\nclef:C1 C.\nS c5 M d c . M e S d M c d e S f M d . S e L c\n"
    for (const width of [1920, 700, 390]) {
      const scene = timeOf(text, { width })
      const dots = marksOf(scene).filter(({ item, around }) => around.at(-1)?.part === "dot" && item.shape !== "text")
      const pillars = marksOf(scene).flatMap(({ item, x, y, scale }) =>
        item.shape === "strokes" && item.part === "pillar"
          ? linesIn(item.points).map((left, i) => ({
              x: x + left * scale,
              top: y + item.points[4 * i + 1]! * scale,
              bottom: y + item.points[4 * i + 3]! * scale,
            }))
          : [],
      )
      expect(dots.length).toBeGreaterThan(0)
      expect(pillars.length).toBeGreaterThan(0)
      const met = dots.filter(({ item, x, y, scale }) => {
        const box = markBox(item)
        const [left, right] = [x + box.left * scale - 1, x + box.right * scale + 1]
        const [top, bottom] = [y + box.top * scale, y + box.bottom * scale]
        return pillars.some(one => one.x > left && one.x < right && one.top < bottom && one.bottom > top)
      })
      expect(met).toEqual([])
    }
  })
  test("the plus of what was gained is smaller in a narrow frame, and within it", () => {
    expect([40, 13, 10].map(width => Math.round(plusArm(width, { size: 1 }) * 10) / 10)).toEqual([6, 5, 3.8])
  })
  test("a rival that never meets again has no post behind it, but three dots", () => {
    const scene = timeOf(
      "voice a black practice=ars-nova\nclef:C1 O\nB a3 S g S f B g3 S a g B f f3 S g B a c4 S b3 a B g L a\n",
    )
    const counts = (drawn: typeof scene) => ["rival", "post", "and-so-on"].map(part => parts(drawn, part).length)
    expect(counts(scene)).toEqual([1, 1, 1])
    // of two, one meets again
    const short = timeOf("voice a black practice=ars-nova\nclef:C1 O\nB a4 S b c5 B d S c5 b4 a B g S a B b L a")
    expect(counts(short)).toEqual([2, 3, 1])
  })
  test("a rival stands a storey below, between two posts", () => {
    const scene = timeOf(
      "voice a black practice=ars-nova\nclef:C1 O\nB a4 S b c5 B d S c5 b4 a B g S a B b a S b c5 B b4 L a",
    )
    expect(parts(scene, "doubt").length).toBeGreaterThan(0)
    expect(parts(scene, "rival").length).toBeGreaterThan(0)
    expect(parts(scene, "post")).toHaveLength(2 * parts(scene, "rival").length)
  })
})

describe("where voices part", () => {
  const APART =
    "voice a black practice=ars-nova\nclef:C1 O\nB c5 c c L c\nvoice b black practice=ars-nova\nclef:C3 O\nB c4 c c L c\nvoice c black practice=ars-nova\nclef:C4 O\nB c4 c S c L c"
  test("a crack through the one voice, and a sentence", () => {
    const scene = timeOf(APART)
    expect(parts(scene, "crack")).toHaveLength(1)
    expect(parts(scene, "zigzag")).toHaveLength(2)
    const [remark] = parts(scene, "remark")
    expect(remark!.item).toMatchObject({ shape: "text", fill: "red" })
    expect(scene.description).toContain("The voices do not meet")
  })
  test("none where they meet", () => {
    expect(parts(timeOf(TWO), "crack")).toEqual([])
  })
})

describe("the sign that is asked about", () => {
  const page = pageOf(TWO)
  const asked = () => drawTime(inputOf(page), { select: idOf(page, "cantus 1") })
  test("cartouche, foot, causes and the reason in words", () => {
    const scene = asked()
    for (const part of ["cartouche", "foot", "cause", "effect", "headline", "source"])
      expect(parts(scene, part).length, part).toBeGreaterThan(0)
    const [headline] = parts(scene, "headline")
    expect(headline!.item).toMatchObject({ text: "A breve of four minims, not six." })
  })
  test("nothing is blue without a question", () => {
    expect(toSvg(timeOf(TWO))).not.toContain("#1D4E8F")
  })
  test("a sign that is not there changes nothing", () => {
    expect(toSvg(drawTime(inputOf(page), { select: "nowhere" as never }))).toBe(toSvg(drawTime(inputOf(page))))
  })
})

describe("a decision", () => {
  test("has its seal at the end of the band", () => {
    const page = pageOf(TWO)
    const sign = idOf(page, "tenor 2")
    const decided: Page = { ...page, decisions: [{ id: "d1" as never, sign, duration: ratio(6) }] }
    expect(parts(drawTime(inputOf(decided)), "seal")).toHaveLength(1)
    expect(parts(drawTime(inputOf(page)), "seal")).toHaveLength(0)
  })
})

describe("systems", () => {
  const input = inputOf(demo("4-four-prolations"))
  test("a long piece is cut, each sign begins in one system", () => {
    const scene = drawTime(input)
    expect(parts(scene, "system").length).toBeGreaterThan(1)
    const right = Math.max(...bands(scene).map(({ x, width }) => x + width))
    expect(right).toBeLessThanOrEqual(1920 - 54 + 1e-6)
  })
  test("a part of the axis", () => {
    const scene = drawTime(input, { from: ratio(45), to: ratio(60) })
    const onsets = bands(scene).map(one => Number(one.onset))
    expect(Math.min(...onsets)).toBe(45)
    expect(Math.max(...onsets)).toBeLessThan(60)
  })
  test("sheets are as high as asked", () => {
    const sheets = drawTimeSheets(input, { sheetHeight: 1080 })
    expect(sheets.length).toBeGreaterThan(1)
    expect(new Set(sheets.map(one => one.height))).toEqual(new Set([1080]))
  })
})

describe("what can be read", () => {
  const views: [string, () => Scene][] = [
    ...DEMOS.map((name): [string, () => Scene] => [name, () => drawTime(inputOf(demo(name)))]),
    ["eight voices, compact", () => drawTime(inputOf(eight()), { compact: true })],
    ...[1, 2, 3, 4, 5, 6].map((seed): [string, () => Scene] => [
      `generated ${seed}`,
      () => drawTime(inputOf(generated(seed)), { compact: seed % 2 === 0 }),
    ]),
    ["1280 px", () => drawTime(inputOf(demo("6-proportion-coloration")), { width: 1280 })],
    ["390 px", () => drawTime(inputOf(demo("5-changing-signs")), { width: 390 })],
  ]
  test.each(views)(
    "%s: texts overlap neither each other nor a note, type is never under 16 px, no line under one",
    (_, view) => {
      const scene = view()
      const texts = marksOf(scene).flatMap(({ item, x, y, scale }) => {
        if (item.shape !== "text") return []
        const { left, top, right, bottom } = markBox(item)
        // letters reach from a capital's height to the line they stand on
        const size = item.type.size * scale
        return [
          {
            text: item.text,
            size,
            box: {
              left: x + left * scale,
              right: x + right * scale,
              top: y + top * scale + size * 0.1,
              bottom: y + bottom * scale - size * 0.24,
            },
          },
        ]
      })
      expect(Math.min(...texts.map(one => one.size))).toBeGreaterThanOrEqual(15.99)
      expect(overlaps(texts)).toEqual([])
      const heads = parts(scene, "head").flatMap(({ item, x, y, scale }) => {
        if (item.shape !== "path") return []
        const { left, top, right, bottom } = markBox(item)
        return [{ left: x + left * scale, right: x + right * scale, top: y + top * scale, bottom: y + bottom * scale }]
      })
      expect(texts.filter(({ box }) => heads.some(head => touches(head, box))).map(one => one.text)).toEqual([])
      const thin = marksOf(scene).filter(({ item, scale }) => item.stroke && item.stroke.width * scale < 0.999)
      expect(thin.map(one => one.item.part)).toEqual([])
      for (const { text, box } of texts)
        expect([text, box.left >= 0, box.right <= scene.width]).toEqual([text, true, true])
    },
  )
  test("eight voices fit a picture of 1920 × 1080", () => {
    const [sheet] = drawTimeSheets(inputOf(eight()), { compact: true, sheetHeight: 1080 })
    expect([sheet!.width, sheet!.height]).toEqual([1920, 1080])
    expect(parts(sheet!, "staff")).toEqual([])
    expect(parts(sheet!, "voice")).toHaveLength(8)
  })
})

const eight = (): Page => lawfulPiece(7, { practice: "ars-nova", voices: 8, notes: 24, doubtful: 0 }).page

const generated = (seed: number): Page =>
  lawfulPiece(seed, { practice: PRACTICES[seed % 3]!, voices: 2 + (seed % 4), notes: 40, doubtful: 0.3 }).page
const PRACTICES = ["ars-antiqua", "ars-nova", "white"] as const

const touches = (one: Box, other: Box): boolean =>
  one.left < other.right - 0.5 && one.right > other.left + 0.5 && one.top < other.bottom && one.bottom > other.top

function overlaps(texts: readonly { text: string; box: Box }[]): string[] {
  const sorted = [...texts].sort((one, other) => one.box.left - other.box.left)
  const found: string[] = []
  sorted.forEach(({ text, box }, i) => {
    for (let j = i + 1; j < sorted.length && sorted[j]!.box.left < box.right - 0.5; j++) {
      const other = sorted[j]!
      if (other.box.top < box.bottom && other.box.bottom > box.top) found.push(`${text} | ${other.text}`)
    }
  })
  return found
}
