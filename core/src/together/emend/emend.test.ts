/** An emendation in the document: what it leaves of the old signs, and that both written forms keep it. */
import { describe, expect, test } from "vitest"
import { signId, voiceId } from "../../base/index.js"
import { newMei, readMei } from "../../formats/mei/index.js"
import { mensuralSchema } from "../../formats/mei/testing/standards.js"
import { everySign, parseShorthand, printShorthand, type Page, type Sign } from "../../page/index.js"
import { randomFrom } from "../../reading/testing/random.js"
import { DEMOS, demoPiece } from "../../score/testing/demos.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { emend } from "./emend.js"
import { plantSlip } from "./testing/slips.js"
import { EMENDATION_KINDS, type Edit, type Emendation, type EmendationKind } from "./types.js"

const HAND = { who: "ed", why: "the voices meet only so" }
const pages: Page[] = [
  ...DEMOS.map(name => demoPiece(name).page),
  lawfulPiece(3, { practice: "ars-nova" }).page,
  lawfulPiece(4, { practice: "white" }).page,
].map(page => ({ ...page, people: { ed: "The editor" } }))

function emendation(kind: EmendationKind, edit: Edit): Emendation {
  const sign = edit.out[0] ?? edit.before ?? signId("")
  const words = { place: "tenor 1", before: "what stood there", after: "what stands there now", why: "a reason" }
  return { rank: 1, kind, sign, voice: "1", ...words, score: 1, step: 1, gain: 1, meets: true, edit }
}

const written = (text: string): Page => {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
function made(page: Page, edit: Edit, kind: EmendationKind = "level-changed", hand = HAND): Page {
  const result = emend(page, emendation(kind, edit), hand)
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.value.page
}
const music = (page: Page) => printShorthand(page)

const PIECE = `title: Ours

person ed "The editor"

voice tenor black practice=ars-nova
clef:C4 O
B a3 S g . B f rS M e [S d e] B f
`
const id = (n: number) => signId(`1.${n}`)
const voice = voiceId("1")

describe("what an emendation leaves on the page", () => {
  test("a sign that is changed is corr, the old one stands beside it as sic", () => {
    const page = written(PIECE)
    const old = page.voices[0]!.signs.find(sign => sign.id === id(4))!
    const after = made(page, { voice, out: [id(4)], in: [{ ...old, level: "minima" } as Sign] })
    expect(music(after)).toContain('M g:corr(resp=ed reason="the voices meet only so")')
    expect(music(after)).toMatch(/alternative sic for=1\.4 id=sic-1\nS g3/)
  })

  test("a sign that is added is supplied, and leaves the others alone", () => {
    const page = written(PIECE)
    const dot: Sign = { kind: "dot", id: signId("new-1") }
    const after = made(page, { voice, out: [], before: id(8), in: [dot] })
    expect(music(after)).toContain('.:supplied(resp=ed reason="the voices meet only so"):id=new-1')
    expect(after.alternatives).toEqual([])
  })

  test("a sign that goes stays in what the source has, with the one before it, so that its place is known", () => {
    const page = written(PIECE)
    const after = made(page, { voice, out: [id(5)], in: [] }, "dot-dropped")
    expect(after.voices[0]!.signs.map(sign => sign.id)).not.toContain(id(5))
    expect(music(after)).toMatch(/alternative sic for=1\.4.*\nS g3:id=sic-2 \./)
  })

  test("what does not change at either end of the edit is not touched", () => {
    const page = written(PIECE)
    const [g, dot, f] = page.voices[0]!.signs.slice(3, 6)
    const after = made(page, { voice, out: [id(4), id(5), id(6)], in: [g!, { ...f!, level: "longa" } as Sign, dot!] })
    expect(after.voices[0]!.signs[3]).toBe(g)
    expect(after.alternatives[0]!.insteadOf).toEqual([id(6), id(5)])
  })

  test("signs that no longer stand so, or beside which another reading stands, are refused", () => {
    const page = written(PIECE)
    const twice = emend(page, emendation("dot-dropped", { voice, out: [id(4), id(8)], in: [] }), HAND)
    expect(twice.ok ? "" : twice.problems[0]!.code).toBe("emendation-out-of-date")
    const once = made(page, { voice, out: [id(5)], in: [] })
    const again = emend(once, emendation("level-changed", { voice, out: [id(4)], in: [] }), HAND)
    expect(again.ok ? "" : again.problems[0]!.code).toBe("other-reading-there")
  })

  test("the line for the critical report says place, source, what was done and why", () => {
    const result = emend(written(PIECE), emendation("dot-dropped", { voice, out: [id(5)], in: [] }), HAND)
    expect(result.ok && result.value.line).toEqual({
      place: "tenor 1",
      source: "what stood there",
      done: "what stands there now",
      why: "the voices meet only so",
    })
  })

  test("an id that another emendation has used in the meantime is not given twice", () => {
    const page = written(PIECE)
    const dot = (before: number): Edit => ({
      voice,
      out: [],
      before: id(before),
      in: [{ kind: "dot", id: signId("supplied-1") }],
    })
    const signs = made(made(page, dot(8)), dot(12)).voices[0]!.signs
    expect(signs.filter(sign => sign.kind === "dot").map(sign => sign.id)).toEqual([id(5), "supplied-1", "supplied-2"])
  })

  test("decisions on signs that go do not outlive them", () => {
    const page = written(`${PIECE}\ndecision on=1.5 dot=division\ndecision on=1.3 duration=6\n`)
    expect(page.decisions).toHaveLength(2)
    expect(made(page, { voice, out: [id(5)], in: [] }).decisions?.map(one => one.sign)).toEqual([id(3)])
  })
})

describe.each(EMENDATION_KINDS)("%s in both written forms", kind => {
  const cases = pages.flatMap((page, i) => {
    const slip = plantSlip(page, kind, randomFrom(100 + i), () => false)
    return slip ? [{ page, slip }] : []
  })
  test("there is a page to try it on", () => expect(cases.length).toBeGreaterThan(0))

  test("the music is what was asked for, every id stands once, the old signs are kept", () => {
    for (const { page, slip } of cases) {
      const after = made(page, slip.edit, kind)
      const bare = (one: Page) => one.voices.map(({ signs }) => signs.map(({ editorial: _, ...sign }) => sign))
      expect(bare(after)).toEqual(bare(slip.page))
      const ids = [...after.voices, ...after.alternatives].flatMap(({ signs }) =>
        [...everySign(signs)].map(sign => sign.id),
      )
      expect(new Set(ids).size).toBe(ids.length)
      const gone = slip.edit.out.length > slip.edit.in.length
      if (gone) expect(after.alternatives).toHaveLength(1)
    }
  })

  test("shorthand keeps it, and MEI keeps it", () => {
    for (const { page, slip } of cases) {
      const text = printShorthand(made(page, slip.edit, kind))
      expect(printShorthand(written(text))).toBe(text)
      const back = readMei(newMei(written(text)))
      expect(back.problems).toEqual([])
      expect(back.ok && printShorthand(back.value.page)).toBe(text)
    }
  })

  test("the MEI is valid", async () => {
    const schema = mensuralSchema()
    await schema?.using(validate => {
      for (const { page, slip } of cases) expect(validate(newMei(made(page, slip.edit, kind)))).toEqual([])
    })
  })
})
