import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { parseShorthand } from "../../page/shorthand/index.js"
import { everySign } from "../../page/walk.js"
import { applyChange, type Page, type Sign } from "../../page/index.js"
import { randomChange } from "../../page/testing/random-change.js"
import { randomPage } from "../../page/testing/random-page.js"
import type { Group, Item, Mark, Scene, TextMark } from "../scene/scene.js"
import { toSvg } from "../scene/svg.js"
import { markBox } from "../signs/index.js"
import { bodiesIn, collisions } from "../testing/collisions.js"
import { drawPage, drawSheets, layPage, undrawnIn } from "./index.js"
import { everything } from "../time/testing/drawn.js"
import { MARGIN } from "./options.js"

function pageOf(text: string): Page {
  const page = parseShorthand(text, "test")
  if (!page.ok) throw new Error(page.problems.map(one => one.what).join("\n"))
  return page.value
}
const all = (item: Item | Scene): Item[] =>
  "content" in item ? item.content.flatMap(inner => [inner, ...all(inner)]) : []
const groups = (scene: Scene, part: string): Group[] =>
  all(scene).filter((item): item is Group => item.shape === "group" && item.part === part)
const texts = (scene: Scene, part: string): TextMark[] =>
  all(scene).filter((item): item is TextMark => item.shape === "text" && item.part === part)
const marks = (item: Item | Scene, part: string): Mark[] =>
  all(item).filter((one): one is Mark => one.shape !== "group" && one.part === part)
const scaleNotes = (count: number) => Array.from({ length: count }, (_, i) => "cdefgab"[i % 7]! + "4").join(" ")

describe("lines", () => {
  test("end where the source breaks them, each with its clef and signature again", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3 sig:bf\nB c4 d e line:2 f g a line:2 b\n"))
    const lines = groups(scene, "line")
    expect(lines.map(line => marks(line, "head").length)).toEqual([3, 3, 1])
    expect(lines.map(line => [marks(line, "clef").length, marks(line, "signature").length])).toEqual([
      [1, 1],
      [1, 1],
      [1, 1],
    ])
  })
  test("a clef that the source writes anew is not doubled", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3\nB c4 d line:2 clef:C2 e f\n"))
    expect(groups(scene, "line").map(line => marks(line, "clef").length)).toEqual([1, 1])
  })
  test("behind a new clef a signature that goes on stands again; one that the source writes is not doubled", () => {
    const scene = drawPage(
      pageOf("voice a black\nclef:C1 sig:bf\nB c5 d line:2 clef:C3 c5 d line:3 clef:C4 sig:ef c5 d\n"),
    )
    const signatures = groups(scene, "line").map(line => marks(line, "signature"))
    expect(signatures.map(one => one.length)).toEqual([1, 1, 1])
    // b on one C clef is half a space higher or lower than the c of another by as many lines as the clef has moved
    const [first, second] = signatures.map(one => markBox(one[0]!).top)
    expect(Math.abs(second! - first!)).toBeGreaterThan(0.5)
  })
  test("fill the width where the source has no breaks, and are no wider", () => {
    const scene = drawPage(pageOf(`voice a black\nclef:C3\nB ${scaleNotes(120)}\n`), { width: 900 })
    const lines = groups(scene, "line")
    expect(lines.length).toBeGreaterThan(2)
    const right = Math.max(...bodiesIn(scene).map(body => body.box.right))
    expect(right).toBeLessThanOrEqual(900 - MARGIN * scene.unit + 0.01)
    const ends = lines.slice(0, -1).map(line => Math.max(...cells(line).map(cell => cell.x ?? 0)))
    for (const end of ends) expect(end).toBeGreaterThan(900 / 12 - 2 * MARGIN - 2.5)
  })
  test("a line of few signs is left short rather than torn apart", () => {
    const scene = drawPage(pageOf(`voice a black\nclef:C3\nB c4 d e f line:2 ${scaleNotes(40)} line:3 c4 d\n`))
    const last = groups(scene, "line").map(line => Math.max(...cells(line).map(one => one.x!)))
    expect(last[0]).toBeLessThan(4 * 7 + 4)
    expect(last[1]).toBeGreaterThan(80)
  })
  test("--lines fit takes the breaks away", () => {
    const page = pageOf("voice a black\nclef:C3\nB c4 d line:2 e f\n")
    expect(groups(drawPage(page, { lines: "fit" }), "line")).toHaveLength(1)
  })
  test("a long line of the source makes everything smaller rather than break", () => {
    const page = pageOf(`voice a black\nclef:C3\nB ${scaleNotes(70)} line:2 c4\n`)
    const scene = drawPage(page)
    expect(groups(scene, "line")).toHaveLength(2)
    expect(scene.unit).toBeLessThan(12)
    expect(Math.max(...bodiesIn(scene).map(body => body.box.right))).toBeLessThanOrEqual(
      1200 - MARGIN * scene.unit + 0.1,
    )
  })
  test.each(["apart", "under"] as const)("however wide, clef, signature and sign keep together (%s)", voices => {
    const notes = scaleNotes(9)
    const lines = `clef:C3 sig:bf O\nB ${notes} clef:C2 sig:bf C ${scaleNotes(60)}`
    const page = pageOf(["a", "b"].map(name => `voice ${name} black\n${lines}\n`).join(""))
    const moments = new Map(page.voices.flatMap(voice => voice.signs.map((sign, i) => [sign.id, i] as const)))
    const isHead = (item: Item): item is Group =>
      item.shape === "group" &&
      all(item).some(one => one.shape !== "group" && /^(clef|signature|mensuration)$/.test(one.part))
    const gapsAt = (width: number) => {
      const heads = groups(drawPage(page, { width, voices, moments }), "line").map(line => line.content.filter(isHead))
      return heads.filter(one => one.length === 6).map(one => one.slice(1).map((head, i) => head.x! - one[i]!.x!))
    }
    const [one, ...others] = [780, 800, 820, 840].flatMap(gapsAt)
    expect(others).toHaveLength(7)
    for (const gaps of others) for (const i of [0, 1, 3, 4]) expect(gaps[i]).toBeCloseTo(one![i]!, 6)
    const between = others.map(gaps => gaps[2]!)
    expect(Math.max(...between) - Math.min(...between)).toBeGreaterThan(0.5)
  })
  test("a custos at the end of a line stands at the very end of the staff", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3\nB c4 d e custos:f4 line:2 f g\n"))
    const [first] = groups(scene, "line")
    const last = cells(first!).at(-1)!
    expect((last.x ?? 0) + markBox(marks(last, "custos")[0]!).right).toBeCloseTo(1200 / 12 - 2 * MARGIN - 0.5, 5)
  })
  test("a folio is named over its first line", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3\nB c4 folio:3v d\n"))
    expect(texts(scene, "folio").map(one => one.text)).toEqual(["f. 3v"])
  })
  test("a clef before the first break stands in the first line of music", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3 O\nfolio:3v B c4 d line:2 e\n"))
    expect(groups(scene, "line").map(line => marks(line, "head").length)).toEqual([2, 1])
    expect(texts(scene, "folio").map(one => one.text)).toEqual(["f. 3v"])
  })
  test("a sign goes to the next line with the note that it speaks of", () => {
    for (let count = 18; count < 30; count++) {
      const page = pageOf(`voice a black\nclef:C3\nB ${scaleNotes(count)} prop:3/2 ${scaleNotes(30)}\n`)
      const lines = groups(drawPage(page, { width: 700 }), "line")
      for (const line of lines) expect(marks(cells(line).at(-1)!, "head")).toHaveLength(1)
    }
  })
  test("a stroke ends the line of what it ends, however wide that is", () => {
    const page = pageOf(`voice a black\nclef:C3\n${"B c4 d e f ' g a b finis ".repeat(6)}\n`)
    for (let width = 300; width < 700; width += 25) {
      const lines = groups(drawPage(page, { width }), "line").map(line =>
        cells(line).map(cell => cell.content[0]!.part),
      )
      expect(lines.length).toBeGreaterThan(1)
      expect(lines.filter(line => line.find(one => one !== "clef") === "stroke")).toEqual([])
    }
  })
  test("even spacing gives every breve as much ground as every semibreve", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3\nB c4 S c B c L c B c S c c c\n"), { spacing: "even" })
    const [line] = groups(scene, "line")
    const lefts = cells(line!)
      .slice(1)
      .map(cell => cell.x!)
    const steps = lefts.slice(1).map((x, i) => x - lefts[i]!)
    for (const step of steps) expect(step).toBeCloseTo(3, 5)
  })
})
const cells = (line: Group): Group[] =>
  line.content.filter((item): item is Group => item.shape === "group" && item.part === undefined)

describe("words", () => {
  const page = pageOf("voice a black\nclef:C3\nB c4 d e f\n> Ky- rie e- lei\n")
  test("the initial takes the first letter of the text", () => {
    const scene = drawPage(page)
    expect(texts(scene, "initial").map(one => one.text)).toEqual(["K"])
    expect(texts(scene, "syllable").map(one => one.text)).toEqual(["y", "rie", "e", "lei"])
  })
  test("syllables begin under the left edge of their notes, with a hyphen within a word", () => {
    const scene = drawPage(page)
    const [line] = groups(scene, "line")
    const notes = cells(line!).slice(1)
    const lefts = texts(scene, "syllable").map(one => one.x)
    lefts.forEach((left, i) => expect(left).toBeCloseTo(notes[i]!.x!, 5))
    expect(texts(scene, "hyphen")).toHaveLength(2)
  })
  test("a word that goes on in the next line has its hyphen", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3\nB c4 d line:2 e\n> la-   bo-       res\n"))
    expect(groups(scene, "line").map(line => marks(line, "hyphen").length)).toEqual([2, 0])
  })
  test("long words push the notes apart", () => {
    const wide = drawPage(pageOf("voice a black\nclef:C3\nB c4 d\n> Constantinopolitanorum omnium\n"))
    const [one, two] = texts(wide, "syllable")
    expect(one!.x + one!.length!).toBeLessThan(two!.x)
  })
  test("a voice without words gets the initial of its name", () => {
    expect(texts(drawPage(pageOf("voice tenor black\nB c4\n")), "initial").map(one => one.text)).toEqual(["T"])
  })
})

describe("voices under one another", () => {
  const page = pageOf("voice a black\nclef:C3\nB c4 L d B e\nvoice b black\nclef:C4\nL c4 B d L e\n")
  const ids = page.voices.map(voice => voice.signs.filter(sign => sign.kind === "note").map(sign => sign.id))
  const moments = new Map([
    ...ids[0]!.map((id, i) => [id, [0, 1, 4][i]!] as const),
    ...ids[1]!.map((id, i) => [id, [0, 3, 4][i]!] as const),
  ])
  test("what sounds together stands together, in order of time", () => {
    const [a, b] = groups(drawPage(page, { voices: "under", moments }), "line").map(line =>
      cells(line)
        .slice(1)
        .map(cell => cell.x!),
    )
    expect(a![0]).toBeCloseTo(b![0]!, 5)
    expect(a![2]).toBeCloseTo(b![2]!, 5)
    expect(b![1]).toBeGreaterThan(a![1]!)
  })
  test("so do the strokes that end them, which no system has to itself", () => {
    const voices = ["B c4 d e f g a b L c5 finis", "B c4 d e f [g a b c5] finis"]
    const page = pageOf(voices.map((line, i) => `voice v${i} black\nclef:C3\n${line}\n`).join(""))
    const moments = new Map(
      page.voices.flatMap(({ signs }) =>
        signs
          .flatMap((sign): readonly Sign[] => (sign.kind === "ligature" ? sign.members : [sign]))
          .flatMap((one, i) => (one.kind === "note" ? [[one.id, i] as const] : [])),
      ),
    )
    for (let width = 300; width < 520; width += 20) {
      const lines = groups(drawPage(page, { voices: "under", moments, width }), "line").map(cells)
      const [a, b] = lines.slice(-2).map(line => line.at(-1)!.x)
      expect(a).toBeCloseTo(b!, 5)
      expect(Math.min(...lines.map(line => line.length))).toBeGreaterThan(2)
    }
  })
  test("nor do staves below which nothing stands come so near each other that they look like one", () => {
    const high = pageOf(["a", "b", "c"].map(name => `voice ${name} black\nclef:C3\nB c4 c c\n`).join(""))
    for (const voices of ["apart", "under"] as const) {
      const scene = drawPage(high, { voices, moments: new Map() })
      const feet = everything(scene.content)
        .filter(({ item }) => item.part === "line")
        .map(({ item, y, scale }) => (y + (item.shape === "group" ? item.y! * scale : 0)) / scene.unit)
      expect(feet).toHaveLength(3)
      // four spaces of a staff, and more than two between it and the next
      feet.slice(1).forEach((foot, i) => expect(foot - feet[i]!).toBeGreaterThan(6.2))
    }
  })
  test("without moments they go line by line", () => {
    const scene = drawPage(page, { voices: "under" })
    expect(groups(scene, "system")).toHaveLength(1)
    expect(groups(scene, "line")).toHaveLength(2)
  })
})

describe("the whole page", () => {
  test("the staff has as many lines as the voice says, in the colour of the source or the one asked for", () => {
    const page = pageOf("voice a black lines=4 colour=red\nB c4\n")
    const voice = { ...page.voices[0]!, lines: 4, staffColour: "red" }
    const drawn = (options = {}) => marks(drawPage({ ...page, voices: [voice] }, options), "staff")
    expect(drawn()).toHaveLength(4)
    expect(drawn()[0]!.stroke?.role).toBe("red")
    expect(drawn({ staff: "black" })[0]!.stroke?.role).toBe("ink")
  })
  test("sheets are no higher than asked, and hold all lines once", () => {
    const page = pageOf(`voice a black\nclef:C3\nB ${scaleNotes(300)}\n`)
    const sheets = drawSheets(page, { width: 800, sheetHeight: 600 })
    expect(sheets.length).toBeGreaterThan(1)
    for (const sheet of sheets)
      for (const { box } of bodiesIn(sheet)) expect(box.bottom).toBeLessThanOrEqual(600 - MARGIN * sheet.unit + 0.1)
    expect(sheets.flatMap(sheet => marks(sheet, "head"))).toHaveLength(300)
  })
  test("an empty page is still a picture with a text in place of it", () => {
    const scene = drawPage({ title: "", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] })
    expect(toSvg(scene)).toContain("0 voices in old notation.")
  })
  test("what an editor supplied is in second ink between brackets", () => {
    const page = pageOf("voice a black\nclef:C3\nB c4\n")
    const voice = page.voices[0]!
    const signs = voice.signs.map(sign =>
      sign.kind === "note" ? { ...sign, editorial: { kind: "supplied" as const } } : sign,
    )
    const scene = drawPage({ ...page, voices: [{ ...voice, signs }] })
    expect(marks(scene, "head")[0]!.fill).toBe("second")
    expect(marks(scene, "editor")).toHaveLength(2)
  })
  test("within a ligature the one supplied note is in second ink, with ends of brackets over and under it", () => {
    const scene = drawPage(pageOf("voice a black\nclef:C3\n[c4 d:supplied e] [c d e]\n"))
    expect(marks(scene, "head").map(({ fill }) => fill)).toEqual(["ink", "second", "ink", "ink", "ink", "ink"])
    const [head] = marks(scene, "head")
      .filter(({ fill }) => fill === "second")
      .map(markBox)
    const ends = marks(scene, "editor").map(markBox)
    expect(ends).toHaveLength(4)
    for (const { left, right } of ends) {
      expect(left).toBeGreaterThan(head!.left)
      expect(right).toBeLessThan(head!.right)
    }
    expect(ends.filter(({ bottom }) => bottom < head!.top + 0.2)).toHaveLength(2)
    expect(ends.filter(({ top }) => top > head!.bottom - 0.2)).toHaveLength(2)
  })
  test("brackets around a dot or a short rest are higher than these", () => {
    const page = pageOf("voice a black\nclef:C3\nB c4 . S r B c\n")
    const voice = page.voices[0]!
    const signs = voice.signs.map(sign =>
      sign.kind === "dot" || sign.kind === "rest" ? { ...sign, editorial: { kind: "supplied" as const } } : sign,
    )
    const brackets = marks(drawPage({ ...page, voices: [{ ...voice, signs }] }), "editor")
    expect(brackets).toHaveLength(4)
    for (const mark of brackets) {
      const { top, bottom } = markBox(mark)
      expect(bottom - top).toBeCloseTo(1.3, 6)
    }
  })
})

describe("laid again after a change", () => {
  const text = Array.from({ length: 8 }, () => `B ${scaleNotes(14)} line:2`).join("\n")
  const page = pageOf(`voice a black\nclef:C3 sig:bf\n${text}\nvoice b black\nclef:C4\n${text}\n`)
  const changed = (at: number): Page => {
    const voice = page.voices[0]!
    const signs = voice.signs.map((sign, i) =>
      i === at && sign.kind === "note" ? { ...sign, level: "longa" as const } : sign,
    )
    return { ...page, voices: [{ ...voice, signs }, page.voices[1]!] }
  }
  test("only the line of the changed sign is drawn anew", () => {
    const laid = layPage(page)
    const again = layPage(changed(40), {}, laid)
    expect(again.scene).toEqual(drawPage(changed(40)))
    const lines = (scene: Scene) => groups(scene, "line").map(line => line.content)
    const same = lines(again.scene).map((content, i) => content === lines(laid.scene)[i])
    expect(same).toEqual(Array.from({ length: 16 }, (_, i) => i !== 2))
  })
  test("nor does a signature that goes on under another clef draw other lines anew, whatever was laid in between", () => {
    const turned = pageOf(`voice a black\nclef:C3 sig:bf\nB ${scaleNotes(150)}\nclef:C4\nB ${scaleNotes(150)}\n`)
    const [voice] = turned.voices as [Page["voices"][number]]
    const longer = (at: number): Page => {
      const signs = voice.signs.map((sign, i) => (i === at ? { ...sign, level: "longa" as const } : sign))
      return { ...turned, voices: [{ ...voice, signs: signs as typeof voice.signs }] }
    }
    const options = { settled: true }
    const laid = layPage(turned, options)
    const notes = voice.signs.flatMap((sign, i) => (sign.kind === "note" ? [i] : []))
    const lines = (scene: Scene) => groups(scene, "line").map(line => line.content)
    for (const at of [10, 170, 60, 250]) {
      const again = layPage(longer(notes[at]!), options, laid)
      expect(lines(again.scene).filter((content, i) => content !== lines(laid.scene)[i])).toHaveLength(1)
    }
  })
  test("another colour or width draws all of it anew", () => {
    const laid = layPage(page)
    for (const options of [{ staff: "red" as const }, { width: 900 }, { spacing: "even" as const }])
      expect(layPage(page, options, laid).scene).toEqual(drawPage(page, options))
  })
  test("whatever the change, it looks as if it had been drawn for the first time", () => {
    const both = randomPage({ signs: 10, voices: 2 }).chain(one => fc.tuple(fc.constant(one), randomChange(one)))
    fc.assert(
      fc.property(both, ([before, change]) => {
        const after = applyChange(before, change)
        if (!after.ok) return
        const options = { width: 500 }
        const again = layPage(after.value.page, options, layPage(before, options))
        expect(again.scene).toEqual(drawPage(after.value.page, options))
      }),
      { seed: 7, numRuns: 200 },
    )
  })

  test("the first word of a voice changes its initial, though it stands in another line", () => {
    const before = pageOf(`voice tenor black\nclef:C3\n${"B c4 d e f ".repeat(30)}\n`)
    const [voice] = before.voices as [Page["voices"][number]]
    const last = {
      ...voice.signs.at(-1)!,
      syllables: [{ stanza: 1, text: "Sol", join: " " }],
    } as (typeof voice.signs)[0]
    const after = { ...before, voices: [{ ...voice, signs: voice.signs.with(voice.signs.length - 1, last) }] }
    const laid = layPage(before, { width: 500 })
    expect(texts(laid.scene, "initial").map(one => one.text)).toEqual(["T"])
    const again = layPage(after, { width: 500 }, laid)
    expect(texts(again.scene, "initial").map(one => one.text)).toEqual(["S"])
  })
})

describe("a page that is being written", () => {
  const settled = { width: 700, settled: true }
  const long = (levels: readonly string[]): Page =>
    pageOf(`voice a black\nclef:C3 sig:bf\n${levels.map((level, i) => `${level} ${"cdefgab"[i % 7]}4`).join(" ")}\n`)
  const lines = (scene: Scene) => groups(scene, "line").map(line => line.content)
  const heads = (scene: Scene) => marks(scene, "head").map(mark => mark.sign)
  const levels = Array.from({ length: 600 }, (_, i) => (i % 3 === 0 ? "L" : "S"))
  const without = (page: Page, from: number, to: number): Page => {
    const [voice] = page.voices as [Page["voices"][number]]
    return { ...page, voices: [{ ...voice, signs: voice.signs.filter((_, i) => i < from || i >= to) }] }
  }
  test("of a voice without line breaks only the line of the change is set anew", () => {
    const page = long(levels)
    const count = lines(layPage(page, settled).scene).length
    expect(count).toBeGreaterThan(8)
    for (const at of [5, 62, 156, 292]) {
      const laid = layPage(page, settled)
      const again = layPage(without(page, at, at + 1), settled, laid)
      expect(lines(again.scene)).toHaveLength(count)
      expect(lines(again.scene).filter((content, i) => content !== lines(laid.scene)[i])).toHaveLength(1)
      expect(layPage(page, settled, again).scene).toEqual(laid.scene)
    }
  })
  test("lines that become too empty or too full are evened out with their neighbours, the rest stays", () => {
    const page = long(levels)
    const laid = layPage(page, settled)
    const before = new Set(lines(laid.scene))
    const again = layPage(without(page, 60, 90), settled, laid)
    expect(heads(again.scene)).toHaveLength(570)
    expect(lines(again.scene).filter(one => before.has(one)).length).toBeGreaterThan(before.size - 7)
    const back = layPage(page, settled, again)
    expect(heads(back.scene)).toEqual(heads(drawPage(page, settled)))
  })
  test("whatever is changed one after the other, all stands on it once, in its order, within the width, and nothing meets", () => {
    const some = randomPage({ signs: 24, voices: 1 }).chain(one =>
      fc.tuple(fc.constant(one), fc.array(randomChange(one), { maxLength: 6 })),
    )
    fc.assert(
      fc.property(some, ([first, changes]) => {
        let page = first
        let laid = layPage(page, settled)
        for (const change of changes) {
          const after = applyChange(page, change)
          if (!after.ok) continue
          page = after.value.page
          laid = layPage(page, settled, laid)
        }
        expect(heads(laid.scene)).toEqual(heads(drawPage(page, settled)))
        expect(collisions(laid.scene)).toEqual([])
        for (const { box } of bodiesIn(laid.scene)) expect(box.right).toBeLessThanOrEqual(settled.width)
      }),
      { seed: 3, numRuns: 150 },
    )
  })
})

test("the checker of collisions sees one", () => {
  const scene = drawPage(pageOf("voice a black\nclef:C3\nB c4 d e\n> La le li\n"))
  const names = bodiesIn(scene).map(body => body.name)
  expect(names).toEqual(expect.arrayContaining(["initial “L”", "syllable “le”", "syllable “li”", "name “a”"]))
  expect(names.filter(name => !name.includes("“"))).toHaveLength(4)
  expect(collisions(scene)).toEqual([])
  const [page] = scene.content as [Group]
  const pushed = { ...scene, content: [{ ...page, content: [...page.content, ...page.content.map(nudged)] }] }
  expect(collisions(pushed).length).toBeGreaterThan(names.length - 1)
})
const nudged = (item: Item): Item => (item.shape === "group" ? { ...item, x: (item.x ?? 0) + 0.4 } : item)

const UNSEEN_KINDS = new Set(["break"])

describe("500 pages of everything that can stand on one", () => {
  const pages = fc.sample(randomPage({ signs: 14, voices: 3 }), { numRuns: 500, seed: 11 })
  test("nothing stands in the way of anything", () => {
    const met = pages.flatMap((page, i) => collisions(drawPage(page)).map(one => `page ${i}: ${one}`))
    expect(met).toEqual([])
  })
  test("nor where voices stand under one another", () => {
    const met = pages.slice(0, 150).flatMap((page, i) => {
      const moments = new Map(
        page.voices.flatMap(voice =>
          [...everySign(voice.signs)].map((sign, at) => [sign.id, Math.floor(at / 2)] as const),
        ),
      )
      return collisions(drawPage(page, { voices: "under", moments })).map(one => `page ${i}: ${one}`)
    })
    expect(met).toEqual([])
  })
  test("every sign that can be seen is drawn under its id, and what has no form is told", () => {
    const lost = pages.flatMap(page => {
      const drawn = new Set(all(drawPage(page)).map(item => item.sign))
      return page.voices.flatMap(voice =>
        [...everySign(voice.signs)]
          .filter(sign => !UNSEEN_KINDS.has(sign.kind) && !drawn.has(sign.id) && !isWordless(sign))
          .map(sign => `${sign.kind} ${sign.id}`),
      )
    })
    expect(lost).toEqual([])
    const others = pages
      .flatMap(page => page.voices.flatMap(voice => [...everySign(voice.signs)]))
      .filter(sign => sign.kind === "other")
    expect(pages.flatMap(undrawnIn)).toHaveLength(others.length)
  })
})

/** Signs that say nothing that could be seen: a mensuration without a level, an empty signature, a mark without its text. */
function isWordless(sign: Page["voices"][number]["signs"][number]): boolean {
  if (sign.kind === "mensuration") {
    const { modusMaior, modusMinor, tempus, prolatio, letter, figures } = sign
    const said = [sign.sign, letter, figures?.[0], modusMaior, modusMinor, tempus, prolatio]
    return said.every(one => one === undefined)
  }
  if (sign.kind === "comment") return sign.text.trim() === ""
  if (sign.kind === "signature") return sign.accidentals.length === 0
  return sign.kind === "mark" && (sign.of === "text" || sign.of === "numeral") && sign.text === undefined
}
