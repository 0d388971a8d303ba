import { existsSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const UNSIGNED = `title: Of our own making

voice cantus black
clef:C1
B c4 S d B e S f g a B g f S e B d S c M d e B f S g a B g S f B e S d c d B e
S g4 M a g S f M e d S e M f e d c S d M e f S g M a b S c5 L d

voice tenor black
clef:C4
B c3 d e f g f e d e f e d e f g f L d
`
const folder = folderWith({
  "unsigned.figurae": UNSIGNED,
  "signed.figurae": UNSIGNED.replaceAll("black", "black practice=ars-nova").replaceAll(
    /(clef:C\d)/g,
    "$1 O mens:modusmaior=2:modus=2",
  ),
})

const { at: file, text } = folder

async function mensuration(args: readonly string[], columns?: number) {
  const answer = await resolutio(["mensuration", ...args], columns)
  return { ...answer, lines: answer.out.split("\n") }
}

describe("mensuration", () => {
  test("tells what was found, how surely, and why", async () => {
    const { out, status } = await mensuration([file("unsigned.figurae")])
    expect(status).toBe(0)
    expect(out).toMatch(/^cantus: imperfect modus minor, perfect tempus, prolatio minor \(supplied; doubt 0\.\d\d/m)
    expect(out).toMatch(/for +\+\d+\.\d +perfect tempus: breves at [\d, and]+/)
    // lengths are told of mensurations that were asked for theirs
    expect(out).toContain("; as long as tenor")
    expect(out).toMatch(
      /imperfect tempus, .*: chance [\d.]+ % \(notes −\d+\.\d, others and custom [+−]\d+\.\d\)(?:; no other voice is as long)?\n +against +−\d+\.\d/,
    )
    expect(out).toContain("As found the voices meet at their finals.")
    expect(out).toMatch(/With imperfect tempus instead the voices do not meet at their finals. \(cost [+−]\d/)
  })
  test("tells what part is stated, what no place speaks of, and what was tried besides", async () => {
    const some = UNSIGNED.replaceAll(/(clef:C\d)/g, "$1 O")
    folder.save("some.figurae", some)
    const { out } = await mensuration([file("some.figurae")])
    expect(out).toContain("(tempus and prolatio stated in the file, the rest supplied; doubt ")
    expect(out).toContain("no place of any weight speaks for or against it")
    expect(out).toMatch(/one more was tried: chance [a-z\d. ]+ % \(--format json lists them\)/)
    expect((await mensuration([file("unsigned.figurae")])).out).toMatch(/\d+ more were tried, together: chance/)
  })
  test("fits in 80 columns", async () => {
    const { lines } = await mensuration([file("unsigned.figurae")], 80)
    expect(Math.max(...lines.map(line => [...line].length))).toBeLessThanOrEqual(80)
  })
  test("as data", async () => {
    const { out } = await mensuration([file("unsigned.figurae"), "--format", "json"])
    const object = JSON.parse(out)
    expect(object).toMatchObject({
      format: "resolutio-mensuration",
      version: 1,
      title: "Of our own making",
      voices: [
        {
          label: "cantus",
          practice: { name: "ars-nova", from: "inferred" },
          mensuration: { tempus: 3, from: "inferred", stated: [] },
        },
        { label: "tenor", mensuration: { tempus: 3 } },
      ],
      together: expect.arrayContaining([
        expect.objectContaining({ level: null, meeting: 2, voices: 2, cost: 0 }),
        expect.objectContaining({ level: "tempus", division: 2, meeting: 1 }),
      ]),
    })
    const { chance, shared, asLongAs } = object.voices[0].candidates[0]
    expect(asLongAs).toEqual(["tenor"])
    expect(shared).toBeGreaterThanOrEqual(chance)
    expect(object.voices[0].candidates[0].evidence).toContainEqual(
      expect.objectContaining({ rule: "in-its-place", level: "tempus" }),
    )
  })
  test("what the file states is only told", async () => {
    const { lines, out, status } = await mensuration([file("signed.figurae")])
    expect(status).toBe(0)
    expect(lines.filter(line => line.includes("stated in the file"))).toHaveLength(4)
    expect(out).not.toContain("chance")
  })
  test("--alone borrows nothing from other voices", async () => {
    const { out } = await mensuration([file("unsigned.figurae"), "--alone"])
    const doubt = (text: string) => Number(/^tenor: .*doubt (\d\.\d+)/m.exec(text)?.[1])
    expect(doubt(out)).toBeGreaterThan(doubt((await mensuration([file("unsigned.figurae")])).out))
    expect(out).not.toContain("As found")
  })
  test("-o writes the signs as supplied ones; the old file stays", async () => {
    const { err, status } = await mensuration([file("unsigned.figurae"), "-o", file("new.figurae")])
    expect(status).toBe(0)
    expect(err).toContain("Written: ")
    expect(text("new.figurae")).toMatch(/^O:\S*tempus=3\S*:supplied\(cert=/m)
    expect(text("unsigned.figurae")).toBe(UNSIGNED)
    await mensuration([file("unsigned.figurae"), "-o", file("new.mei")])
    expect(text("new.mei")).toMatch(/<supplied [^>]*reason="found from the notes/)
    expect((await mensuration([file("unsigned.figurae"), "-o", file("new.mei")])).status).toBe(2)
  })
  test("what cannot be done is refused with a reason", async () => {
    const strange = await mensuration([file("unsigned.figurae"), "-o", file("new.pdf")])
    expect(strange).toMatchObject({ status: 2, err: expect.stringContaining(".mei") })
    expect(existsSync(file("new.pdf"))).toBe(false)
    const missing = await mensuration([file("none.figurae"), "--format", "json"])
    expect(missing.status).toBe(2)
    expect(JSON.parse(missing.out)).toMatchObject({ format: "resolutio-mensuration", version: 1 })
  })
})

describe("read", () => {
  const THREES = "B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c B d S e B f S g a B g S f B e "
  const { at } = folderWith({
    "denied.figurae": `voice cantus black practice=ars-nova\nclef:C1 C mens:modusmaior=2:modus=2 ${THREES}${THREES}\n`,
  })
  test("tells where a voice contradicts its declared mensuration, in words and as data", async () => {
    const what = "The notes of cantus contradict its declared imperfect tempus: "
    for (const apart of [[], ["--alone"]]) {
      const told = await resolutio(["read", at("denied.figurae"), ...apart])
      expect(told.status).toBe(1)
      expect(told.out + told.err).toContain(what)
    }
    const { out } = await resolutio(["read", at("denied.figurae"), "--format", "json"])
    expect(JSON.parse(out).voices[0].problems).toMatchObject([
      {
        code: "declared-mensuration-contradicted",
        what: expect.stringContaining(what),
        where: { sign: expect.any(String) },
      },
    ])
  })
})
